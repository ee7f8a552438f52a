// How is a length written, and how is it said?  The writing half of length.js (lengths are whole nanometres), by itself:
// the phone shows lengths and reads none.

import { decimalText, ratio, rounded } from './ratio.js';

const INCH = 25_400_000n;
const SIXTY_FOURTH = 396_875;
const TEN_THOUSANDTH = 2_540;
const ROUND_MM = 10_000;

/** Inches as they are drawn with a raised fraction; `mark` is "", "full" or "shy".  `den` is 1 where `num` is 0.
 * @typedef {{whole: number, num: number, den: number, mark: '' | 'full' | 'shy'}} Parts */

/** The nearest line of a tape with `denominator` lines to the inch, in lowest terms; half way, the longer line.
 * @param {number} nm @param {number} [denominator] @returns {Parts} */
export function partsOfInches(nm, denominator = 16) {
  const lines = ratio(BigInt(Math.abs(nm)) * BigInt(denominator), INCH);
  const line = rounded(lines);
  const over = lines.above - line * lines.below;
  const mark = over > 0n ? 'full' : over < 0n ? 'shy' : '';
  const whole = Number(line / BigInt(denominator));
  const part = ratio(line % BigInt(denominator), BigInt(denominator));
  const num = Number(part.above);
  if (nm >= 0) return { whole, num, den: Number(part.below), mark };
  // 0 - x, and not -x: there is no minus zero here.
  return { whole: 0 - whole, num: whole ? num : 0 - num, den: Number(part.below), mark };
}

/** @param {number} whole @param {number} num @param {number} den */
function mixed(whole, num, den) {
  if (!num) return `${whole}`;
  return whole ? `${whole} ${num}/${den}` : `${num}/${den}`;
}

/** Inches to the nearest line of the tape, without the unit: "2 7/16", "7/16 full", "3 shy".
 * @param {number} nm @param {number} [denominator] */
export function writeInches(nm, denominator = 16) {
  const { whole, num, den, mark } = partsOfInches(nm, denominator);
  return `${mixed(whole, num, den)} ${mark}`.trimEnd();
}

/** Feet and inches with their marks: 5' 3 3/4"; under a foot only inches.
 * @param {number} nm @param {number} [denominator] */
export function writeFeetInches(nm, denominator = 16) {
  const { whole, num, den, mark } = partsOfInches(Math.abs(nm), denominator);
  const feet = Math.floor(whole / 12);
  const inches = `${mixed(whole % 12, num, den)}"`;
  return `${nm < 0 ? '-' : ''}${feet ? `${feet}' ` : ''}${inches} ${mark}`.trimEnd();
}

/** Decimal inches as a caliper shows them, always to `places`, half-even.
 * @param {number} nm @param {number} [places] */
export function writeDecimalInches(nm, places = 3) {
  return decimalText(rounded(ratio(BigInt(nm) * 10n ** BigInt(places), INCH)), places, false);
}

/** Millimetres to a tenth, half-even, without the unit and without a needless ".0".
 * @param {number} nm */
export function writeMm(nm) {
  return decimalText(rounded(ratio(BigInt(nm), 100_000n)), 1);
}

/** The shortest text, with its unit, that reads back as the very same length.  Where inches are wanted: a fraction down
 * to 1/64, else decimals, and millimetres only for what is round in those.
 * @param {number} nm @param {string} [unit] */
export function writeExact(nm, unit = 'in') {
  if (unit === 'in' && nm % SIXTY_FOURTH === 0) return `${writeInches(nm, 64)} in`;
  if (unit === 'in' && (nm % TEN_THOUSANDTH === 0 || nm % ROUND_MM)) {
    for (let places = 1; places < 9; places++) {
      const tens = 10n ** BigInt(places);
      const scaled = rounded(ratio(BigInt(nm) * tens, INCH));
      if (rounded(ratio(scaled * INCH, tens)) === BigInt(nm)) return `${decimalText(scaled, places)} in`;
    }
  }
  return `${decimalText(BigInt(nm), 6)} mm`;
}

/** A length as screens and paper show it, without the unit: inches to a job's denominator, or millimetres.
 * @param {number} nm @param {string} [unit] @param {number} [denominator] */
export function write(nm, unit = 'in', denominator = 16) {
  return unit === 'mm' ? writeMm(nm) : writeInches(nm, denominator);
}

/** @type {Record<number, string>} */
const SPOKEN = { 4: 'quarter', 8: 'eighth', 16: 'sixteenth', 32: 'thirty-second', 64: 'sixty-fourth' };

/** A length in words that a screen reader says right: "3 and a quarter inches", "7 sixteenths of an inch, full".
 * @param {number} nm @param {string} [unit] @param {number} [denominator] */
export function spoken(nm, unit = 'in', denominator = 16) {
  if (unit === 'mm') {
    const number = writeMm(nm);
    return `${number.replace('-', 'minus ')} millimetre${number === '1' || number === '-1' ? '' : 's'}`;
  }
  const { whole, num, den, mark } = partsOfInches(Math.abs(nm), denominator);
  let fraction = '';
  if (den === 2) fraction = whole ? 'a half' : 'half';
  else if (num === 1) fraction = `${den === 8 ? 'an' : 'a'} ${SPOKEN[den]}`;
  else if (num) fraction = `${num} ${SPOKEN[den]}s`;
  let text = `${whole} inch${whole === 1 ? '' : 'es'}`;
  if (whole && fraction) text = `${whole} and ${fraction} inches`;
  else if (fraction) text = `${fraction} ${den === 2 ? 'an inch' : 'of an inch'}`;
  return `${nm < 0 ? 'minus ' : ''}${text}${mark ? `, ${mark}` : ''}`;
}
