// What does the maker mean by "2 7/16"?  A length is a whole number of nanometres.  Twin of shopfloor/trade/length.py,
// where the rules are explained; bound by tests/vectors/lengths.json and lengths_written.json.

import { LONGEST, UNITS, amount } from './amount.js';
import { ratio, rounded } from './ratio.js';
import { whyNot } from './refusal.js';
import { plain, quoted, tooMany } from './typed.js';
import { writeInches } from './written.js';

export { UnreadableCount, readCount } from './count.js';
export {
  partsOfInches,
  spoken,
  write,
  writeDecimalInches,
  writeExact,
  writeFeetInches,
  writeInches,
  writeMm,
} from './written.js';

/** Whole nanometres, exact up to 9 000 km.
 * @typedef {number} Length */

/** One size as read; `exact` is the nanometres before they were rounded, as "n" or "n/d".
 * @typedef {{nm: Length, exact: string, warnings: string[], note: string, means: string, stock: string}} Reading */

export const INCH = 25_400_000;
export const MM = 1_000_000;
const SHORT = 38_100_000;
const FARTHEST = BigInt(Number.MAX_SAFE_INTEGER);
const QUARTERS = ['4/4', '5/4', '6/4', '7/4', '8/4', '10/4', '12/4', '14/4', '16/4'];
const QUIET_WORDS = ['finished', 'final', 'net'];
const TOLD_WORDS = ['full', 'heavy', 'strong', 'shy', 'scant', 'bare', 'light', 'rough'];
const WORDS = [...QUIET_WORDS, ...TOLD_WORDS].join('|');
const WORD_BEFORE = new RegExp(`^(${WORDS}) (.+)$`, 'su');
const WORD_AFTER = new RegExp(`^(.+?),? ?\\(?(${WORDS})\\)?$`, 'su');

/** A text is no length, or not for certain.  `suggests` holds what was probably meant: ask, never apply it. */
export class UnreadableLength extends Error {
  /** @param {string} what @param {{code: string, where?: string, do?: string, suggests?: string[]}} more */
  constructor(what, { code, where = '', do: todo = '', suggests = [] }) {
    const next = suggests.length ? `Write ${suggests.join(' or ')}, if that is meant.` : todo;
    super(`${where ? `${where}: ` : ''}${what}.${next ? ` ${next}` : ''}`);
    this.name = 'UnreadableLength';
    this.code = code;
    this.what = what;
    this.where = where;
    this.do = next;
    this.suggests = suggests;
    /** The whole sentence. */
    this.says = this.message;
  }
}

/** The nanometres of a typed length; a number without a unit is in `unit`.  Throws UnreadableLength.
 * @param {string} text @param {string} [unit] "in" or "mm" @param {string} [where] @returns {Length} */
export function read(text, unit = 'in', where = '') {
  const { found } = understood(text, unit, where);
  if (!found.unit && isOver(found.exact, LONGEST)) throw tooLong(found, text, unit, where);
  return Number(rounded(found.exact));
}

/** One size of a part, as it stands in a cut list; `column` decides what "5/4" means.  Throws UnreadableLength.
 * @param {string} text @param {string} [unit] "in" or "mm" @param {string} [column] @param {string} [where]
 * @returns {Reading} */
export function readSize(text, unit = 'in', column = 'Length', where = '') {
  const place = where || column;
  const { found, note } = understood(text, unit, place);
  const nm = Number(rounded(found.exact));
  if (isOver(found.exact, LONGEST)) throw tooLong(found, text, unit, place);
  if (nm === 0) {
    throw new UnreadableLength(`${quoted(text)} is no size: zero`, { code: 'zero-length', where: place, do: example(unit) });
  }
  const warnings = [...found.warnings];
  const lost = lostSpace(found.fraction);
  let [means, stock] = ['size', ''];
  if (column.toLowerCase() === 'thickness' && QUARTERS.includes(found.fraction)) {
    stock = found.fraction;
    means = `stock ${stock}, rough ${writeInches(nm, 64)} in; finished size not given`;
    warnings.push('finished thickness needed');
  } else if (lost) {
    warnings.push(`${writeInches(nm, 64)} or ${lost}? ask`);
  }
  if (column.toLowerCase() === 'length' && nm < SHORT) warnings.push('very short part');
  if (TOLD_WORDS.includes(note)) warnings.push(`${quoted(note)}: word kept and printed, not dropped`);
  const { above, below } = found.exact;
  return { nm, exact: below === 1n ? `${above}` : `${above}/${below}`, warnings, note, means, stock };
}

/** @param {string} text @param {string} unit @param {string} where */
function understood(text, unit, where) {
  if (unit !== 'in' && unit !== 'mm') throw new TypeError(`${unit} is not a unit that a job is thought in: in or mm`);
  const tidy = tooMany(text) ? '' : plain(text);
  if (!tidy && !tooMany(text)) {
    throw new UnreadableLength('no size given', { code: 'no-length', where, do: example(unit) });
  }
  const { size, note } = withoutWord(tidy);
  const found = amount(size, unit);
  if (!found) {
    const why = whyNot(size, unit);
    const what = why.says.replace('{}', () => quoted(text));
    throw new UnreadableLength(what, { ...why, where, do: why.do || example(unit) });
  }
  if (isOver(found.exact, FARTHEST)) throw tooLong(found, text, unit, where);
  return { found, note };
}

/** @param {string} tidy */
function withoutWord(tidy) {
  const before = WORD_BEFORE.exec(tidy);
  if (before) return { size: before[2], note: before[1] };
  const after = WORD_AFTER.exec(tidy);
  return after ? { size: after[1], note: after[2] } : { size: tidy, note: '' };
}

/** @param {string} fraction */
function lostSpace(fraction) {
  const [above, below] = fraction.split('/');
  if (!below || BigInt(above) < BigInt(below)) return '';
  for (let at = 1; at < above.length; at += 1) {
    const rest = above.slice(at);
    if (rest[0] !== '0' && BigInt(rest) < BigInt(below)) return `${above.slice(0, at)} ${rest}/${below}`;
  }
  return '';
}

/** @param {string} unit */
function example(unit) {
  return unit === 'mm' ? 'Write it like 595.5 or 23 7/16 in.' : 'Write it like 23 7/16 or 595.5 mm.';
}

/** @param {import('./amount.js').Ratio} value @param {bigint} limit */
function isOver(value, limit) {
  return value.above > limit * value.below;
}

/** @param {import('./amount.js').Amount} found @param {string} text @param {string} unit @param {string} where */
function tooLong(found, text, unit, where) {
  const number = ratio(found.exact.above, found.exact.below * UNITS.in);
  const inMm = unit === 'in' && !found.unit && number.below === 1n && number.above * UNITS.mm <= LONGEST;
  return new UnreadableLength(`${quoted(text)} is too long for a board${found.unit ? '' : ' (unit missing?)'}`, {
    code: 'too-long',
    where,
    do: 'The longest length taken is 50 ft (15240 mm).',
    suggests: inMm ? [`${number.above} mm`] : [],
  });
}
