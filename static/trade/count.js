// How many pieces does a line of the cut list ask for?  Twin of shopfloor/trade/count.py.

import { dateMeant, plain, quoted, tooMany } from './typed.js';

/** Pieces of one line.  More is a slip of the keys, and would be as many labels. */
export const MOST = 2_000;

const COUNT =
  /^(?:x ?)?([0-9]+)(?:[.,]([0-9]+))?(?: ?(?:(x|pcs?\.?|pieces?|each|ea\.?|off|no\.?)|(prs?\.?|pairs?)))?$/;

/** A quantity is missing, or is no number of pieces. */
export class UnreadableCount extends Error {
  /** @param {string} what @param {{code: string, where: string, do: string}} more */
  constructor(what, { code, where, do: todo }) {
    super(`${where ? `${where}: ` : ''}${what}. ${todo}`);
    this.name = 'UnreadableCount';
    this.code = code;
    this.what = what;
    this.where = where;
    this.do = todo;
    /** The whole sentence. */
    this.says = this.message;
  }
}

/** The pieces that a quantity asks for; a pair is two, one of each hand, to be confirmed.  Throws UnreadableCount.
 * @param {string} text @param {string} [where] @returns {{pieces: number, hands: string}} */
export function readCount(text, where = 'Qty') {
  /** @param {string} code @param {string} what @param {string} [todo] */
  const refusal = (code, what, todo = 'Write a whole number, like 4.') =>
    new UnreadableCount(what, { code, where, do: todo });

  const shown = quoted(text);
  const tidy = tooMany(text) ? '' : plain(text);
  if (!tidy && !tooMany(text)) throw refusal('missing-count', 'missing quantity: not taken as 1');
  if (/^[=@]/.test(tidy)) throw refusal('a-formula', `${shown} is a formula, not a quantity`, 'Write the number itself.');
  if (dateMeant(tidy)) throw refusal('a-date', `${shown} is a date, not a quantity`);
  if (tidy.startsWith('-') && COUNT.test(tidy.slice(1).replace(/^ +| +$/g, ''))) {
    throw refusal('negative-count', `${shown} is a negative quantity`);
  }
  const found = COUNT.exec(tidy);
  if (!found) throw refusal('unreadable-count', `${shown} is not a quantity`);
  const [, whole, places, , pairs] = found;
  if (places?.length === 3 && tidy.includes(',')) {
    throw refusal('unreadable-count', `${shown}: comma could be thousands or decimal`);
  }
  if (places && BigInt(places)) throw refusal('part-count', `${shown} is not a whole number`);
  const number = BigInt(whole);
  if (!number) throw refusal('zero-count', `${shown}: zero pieces`, 'Leave the row out, or write how many.');
  const pieces = pairs ? number * 2n : number;
  if (pieces > BigInt(MOST)) {
    const most = MOST.toLocaleString('en');
    throw refusal('too-many', `${shown} is more than ${most} pieces of one line`, 'Look at the quantity.');
  }
  return { pieces: Number(pieces), hands: pairs ? `${number} left + ${number} right, to be confirmed` : '' };
}
