// Why is this no size, and what was probably meant?  Twin of shopfloor/trade/refusal.py.

import { LONGEST, amount, commaOfThree, unitTyped } from './amount.js';
import { dateMeant } from './typed.js';

/** Why a text is no size; `says` has a gap `{}` for the text itself.
 * @typedef {{code: string, says: string, suggests: string[], do: string}} Why */

const ABOUT = /^(?:~|≈|∼|±|\+\/-|ca\.?|circa|approx\.?|approximately|about|around) ?([0-9.,].*)$/su;
const ABOUT_AFTER = /^(.*[0-9"'a-z.]) ?(?:\?|~|ish|or so|approx\.?|(?:±|\+\/-).*)$/su;
const DOT_AND_SLASH = /^([0-9]+)[.,]([0-9]+)\/([0-9]+)$/;
const TWO = /^([0-9]+)(?: ?- ?| )([0-9]+)$/;
const THREE = /^([0-9]+)[ -]([0-9]+)[ -]([0-9]+)$/;
const WHOLE_AND_MORE = /^([0-9]+)(?: ?- ?| )([0-9]+)\/([0-9]+)$/;
const FEET_AND_MORE = /^([0-9]+) ?(?:feet|foot|ft\.?|') ?-? ?([0-9][0-9.,/ -]*?) ?(?:inches|inch|in\.?|")?$/;
const TAPE = ['2', '4', '8', '16', '32', '64'];

/** @param {string} code @param {string} says @param {string[]} [suggests] @param {string} [todo] @returns {Why} */
const because = (code, says, suggests = [], todo = '') => ({ code, says, suggests, do: todo });

/** The reason that helps most.  Called only for what is not an amount.
 * @param {string} size @param {string} unit @returns {Why} */
export function whyNot(size, unit) {
  /** @param {string[]} texts */
  const reads = (...texts) =>
    texts.filter((text) => {
      const made = amount(text, unit);
      return made && made.exact.above >= made.exact.below && made.exact.above <= LONGEST * made.exact.below;
    });

  if (/^[=@]/.test(size)) {
    return because('a-formula', '{} is a formula, not a size', [], 'Write the size itself, as text.');
  }
  const fractions = dateMeant(size);
  if (fractions) {
    const inches = unit === 'mm' ? fractions.map((fraction) => `${fraction} in`) : fractions;
    return because('a-date', '{} is a date, not a size', inches);
  }
  const about = ABOUT.exec(size) ?? ABOUT_AFTER.exec(size);
  if (about && reads(about[1]).length) return because('not-exact', '{} is not exact', [about[1]]);
  if (size.startsWith('-') && amount(size.slice(1).replace(/^ +| +$/g, ''), 'in')) {
    return because('negative-length', '{} is a negative size');
  }
  if (/\/ ?0+(?![0-9])/.test(size)) {
    return because('not-a-number', '{} is not a number: nothing is cut into 0 parts');
  }
  if (unit === 'mm' && amount(size, 'in')) {
    return because('ambiguous-length', '{} is a fraction, and this size is in millimetres', reads(`${size} in`));
  }
  const summands = size.split(/ ?\+ ?/);
  if (summands.length > 1 && reads(...summands).length === summands.length) {
    const mixed = summands.length === 2 && summands[1].includes('/') ? reads(summands.join(' ')) : [];
    return because('a-sum', '{}: sums are not worked out in cells', mixed, 'Add it up, and write one number.');
  }
  const factors = size.split(/ ?[x*×] ?/u);
  if (factors.length > 1 && reads(...factors).length === factors.length) {
    return because('two-numbers', '{} is more than one size', [], 'Write one size here.');
  }
  const tail = unitTyped(size);
  const number = size.replace(/"$/, '').replace(/[ .'a-z]+$/, '');
  const parts = commaOfThree(number);
  if (parts) {
    const both = reads(`${parts[0]}${parts[1]}${tail}`, `${parts[0]}.${parts[1]}${tail}`);
    return because('ambiguous-length', '{}: comma could be thousands or decimal', both);
  }
  const dotted = DOT_AND_SLASH.exec(number);
  if (dotted) {
    const [, whole, above, below] = dotted;
    const meant = reads(`${whole} ${above}/${below}${tail}`, `${whole}.${above}${tail}`);
    return because('unreadable-length', '{} is not a size', meant);
  }
  const two = TWO.exec(number);
  if (two) {
    const [, left, right] = two;
    const meant = TAPE.includes(right) && BigInt(left) < BigInt(right) ? reads(`${left}/${right}${tail}`) : [];
    const grouped = right.length === 3 && !number.includes('-') ? reads(`${left}${right}${tail}`) : [];
    return because('two-numbers', '{}: two numbers, no fraction', [...meant, ...grouped]);
  }
  const three = THREE.exec(number);
  if (three) {
    const meant = TAPE.includes(three[3]) ? reads(`${three[1]} ${three[2]}/${three[3]}${tail}`) : [];
    return because('two-numbers', '{}: three numbers, no fraction', meant);
  }
  const more = WHOLE_AND_MORE.exec(number);
  if (more) {
    const [whole, above, below] = more.slice(1).map(BigInt);
    const total = `${whole + above / below} ${above % below}/${below}${tail}`;
    return because('ambiguous-length', `{}: ${above}/${below} is one or more, after a whole number`, reads(total));
  }
  const feet = FEET_AND_MORE.exec(size);
  if (feet && amount(feet[2], 'in')) {
    const over = /^[0-9]+$/.test(feet[2]) ? BigInt(feet[2]) : 0n;
    const meant = over ? reads(`${BigInt(feet[1]) + over / 12n}' ${over % 12n}"`) : [];
    return because('ambiguous-length', '{}: a foot or more, after the feet', meant);
  }
  return because('unreadable-length', '{} is not a size');
}
