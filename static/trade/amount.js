// Which number, and of which unit, was typed?  Twin of shopfloor/trade/amount.py, where the grammar is explained.
// All arithmetic is exact: ratios of BigInt.

import { decimalText, ratio, rounded } from './ratio.js';

/** @typedef {import('./ratio.js').Ratio} Ratio */
/** What was typed: exact nanometres, the unit named ("" if none), a lone fraction of inches as typed ("5/4").
 * @typedef {{exact: Ratio, unit: string, fraction: string, warnings: string[]}} Amount */

/** @type {Record<string, bigint>} nanometres of one */
export const UNITS = { in: 25_400_000n, ft: 304_800_000n, mm: 1_000_000n, cm: 10_000_000n, m: 1_000_000_000n };

/** 50 ft.  No board is longer: a bigger number lacks its unit. */
export const LONGEST = 600n * UNITS.in;

const FEET = "(?:feet|foot|ft\\.?|')";
const INCHES = '(?:inches|inch|in\\.?|")';
const UNIT = `(?:(${INCHES})|(${FEET})|(mm|millimet(?:er|re)s?)|(cm|centimet(?:er|re)s?)|(m|met(?:er|re)s?))`;

const ONE_UNIT = new RegExp(`^([0-9.,/ -]+?) ?${UNIT}?$`);
const FEET_AND_INCHES = new RegExp(`^([0-9]+) ?${FEET} ?-? ?([0-9.,][0-9.,/ -]*?) ?${INCHES}?$`);
const UNIT_AT_END = new RegExp(`[0-9. ]${UNIT}$`);
const MIXED = /^([0-9]+)( ?- ?| )(0|[1-9][0-9]*)\/([1-9][0-9]*)$/;
const FRACTION = /^(0|[1-9][0-9]*)\/([1-9][0-9]*)$/;
const DECIMAL = /^(?:([0-9]+)\.?|([0-9]*)[.,]([0-9]+))$/;
const GROUPED = /^(?:([1-9][0-9]{0,2}(?:,[0-9]{3})+)\.([0-9]+)|([1-9][0-9]{0,2}(?:\.[0-9]{3})+),([0-9]+))$/;
const COMMA_OF_THREE = /^([1-9][0-9]{0,2}),([0-9]{3})$/;

/** Read a text in plain signs; a number without a unit is in `unit`, but a fraction never in millimetres.
 * @param {string} size @param {string} unit "in" or "mm" @returns {Amount | null} */
export function amount(size, unit) {
  const tidy = size.replace(/ ?\/ ?/g, '/');
  const both = FEET_AND_INCHES.exec(tidy);
  const inches = both && number(both[2], true);
  if (both && inches) {
    if (inches.value.above >= 12n * inches.value.below) return null;
    const { above, below } = inches.value;
    const exact = ratio((BigInt(both[1]) * 12n * below + above) * UNITS.in, below);
    return { exact, unit: 'in', fraction: '', warnings: inches.warnings };
  }
  const one = ONE_UNIT.exec(tidy);
  if (!one) return null;
  const named = unitIn(one.slice(2));
  const found = number(one[1], ['in', 'ft', 'm'].includes(named));
  if (!found) return null;
  if (unit === 'mm' && !named && one[1].includes('/')) return null;
  const own = named || unit;
  const exact = ratio(found.value.above * UNITS[own], found.value.below);
  const warnings = [...found.warnings];
  if (one[1].includes('/') && (own === 'in' || own === 'ft') && ratio(exact.above * 64n, exact.below * UNITS.in).below > 1n) {
    warnings.push('not on an inch tape');
  }
  return { exact, unit: named, fraction: own === 'in' && FRACTION.test(one[1]) ? one[1] : '', warnings };
}

/** @param {(string | undefined)[]} typed one group for each unit */
function unitIn(typed) {
  return Object.keys(UNITS)[typed.findIndex(Boolean)] ?? '';
}

/** The unit that ends a text, as " mm", or nothing.
 * @param {string} size */
export function unitTyped(size) {
  const found = UNIT_AT_END.exec(size);
  const named = found ? unitIn(found.slice(1)) : '';
  return named && ` ${named}`;
}

/** The digits before and after the comma of "1,205", which may be 1205 or 1.205.
 * @param {string} typed @returns {[string, string] | null} */
export function commaOfThree(typed) {
  const found = COMMA_OF_THREE.exec(typed);
  return found && [found[1], found[2]];
}

/** @param {string} typed @param {boolean} decimalComma @returns {{value: Ratio, warnings: string[]} | null} */
function number(typed, decimalComma) {
  const mixed = MIXED.exec(typed);
  if (mixed) {
    const [, whole, joint, above, below] = mixed;
    if (BigInt(above) >= BigInt(below)) return null;
    const told = [`read as ${whole} ${above}/${below}, not ${whole} minus ${above}/${below}`];
    const value = ratio(BigInt(whole) * BigInt(below) + BigInt(above), BigInt(below));
    return { value, warnings: joint.length > 1 ? told : [] };
  }
  const fraction = FRACTION.exec(typed);
  if (fraction) return { value: ratio(BigInt(fraction[1]), BigInt(fraction[2])), warnings: [] };
  if (commaOfThree(typed) && !decimalComma) return null;
  const grouped = GROUPED.exec(typed);
  if (grouped) return decimal((grouped[1] ?? grouped[3]).replace(/[.,]/g, ''), grouped[2] ?? grouped[4]);
  const plainly = DECIMAL.exec(typed);
  return plainly && decimal(plainly[1] || plainly[2] || '0', plainly[3] ?? '');
}

/** @param {string} whole @param {string} places @returns {{value: Ratio, warnings: string[]}} */
function decimal(whole, places) {
  const value = ratio(BigInt(whole + places), 10n ** BigInt(places.length));
  const millionths = rounded(ratio(value.above * 1_000_000n, value.below));
  const near = ratio(millionths, 1_000_000n);
  const over = value.above * near.below - near.above * value.below;
  // Spreadsheets add in binary: 19.999999999999996 is their 20.
  if (over !== 0n && (over < 0n ? -over : over) * 10n ** 13n <= value.above * near.below) {
    return { value: near, warnings: [`taken as ${decimalText(millionths, 6)}`] };
  }
  return { value, warnings: [] };
}
