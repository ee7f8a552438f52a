// What stands on the label?  Five symbols of 32 and a check symbol.  Twin of shopfloor/trade/code.py, where the scheme
// is explained; what is printed never changes: tests/vectors/codes.json freezes every constant.

import { first, plain, quoted, tooMany } from './typed.js';

/** Crockford's 32 symbols: no I, L, O or U. */
export const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Serials run from 0 to one less than this. */
export const SERIALS = 32 ** 5;

const STEP = 20_737_903;
const START = 11_904_187;
const VOWELS = /[AEYV0134]/;
const LETTERS = /[A-Z]{3}/;
/** @type {Record<string, string>} */
const READ_AS = { 2: 'Z', 5: 'S', 6: 'G', 7: 'T', 8: 'B', 9: 'G' };
const ODD = new RegExp(
  'SS|HH|KZ|NZ|NS|SX|XX|CP|PD|FK|BTCH|BCH|SHT|SCK|CNT|KNT|TTS|PNS|PSS|WTF|NGG|NGR|FGT|FGG|FTZ|PTN|PTS|SPC|TWT|TRD' +
    '|DTH|BMB|STN|BDSM|BSTRD|CBRN|MST',
);
const ODD_NUMBERS = /28|69|88|666|H8/;

/** What was typed or scanned is not a part's code.
 * Codes: not-our-label, code-length, code-symbol, code-check. */
export class UnreadableCode extends Error {
  /** @param {string} what @param {{code: string, where: string, do: string}} more */
  constructor(what, { code, where, do: todo }) {
    super(`${where ? `${where}: ` : ''}${what}. ${todo}`);
    this.name = 'UnreadableCode';
    this.code = code;
    this.what = what;
    this.where = where;
    this.do = todo;
    /** The whole sentence. */
    this.says = this.message;
  }
}

/** The check symbol of five symbols: XOR of d[i] * a^(i+1) in GF(32), polynomial x^5 + x^2 + 1, a = 2.
 * @param {string} data */
export function check(data) {
  let total = 0;
  for (let place = 0; place < data.length; place += 1) {
    let value = ALPHABET.indexOf(data[place]);
    for (let times = 0; times <= place; times += 1) {
      value <<= 1;
      if (value & 32) value ^= 37;
    }
    total ^= value;
  }
  return ALPHABET[total];
}

/** The six symbols of a serial.  Throws RangeError outside 0 to SERIALS - 1.
 * @param {number} serial */
export function code(serial) {
  if (!Number.isInteger(serial) || serial < 0 || serial >= SERIALS) throw new RangeError(`${serial} is not a serial`);
  const rest = (serial * STEP + START) % SERIALS; // under 2 ** 50: exact
  const data = [20, 15, 10, 5, 0].map((shift) => ALPHABET[(rest >> shift) & 31]).join('');
  return data + check(data);
}

/** Whether a code can be given: nobody will read a word, initials or a sign into it.
 * @param {string} six */
export function spellsNothing(six) {
  if (VOWELS.test(six) || LETTERS.test(six) || ODD_NUMBERS.test(six)) return false;
  return !ODD.test(six.replace(/[256789]/g, (digit) => READ_AS[digit]));
}

/** The [serial, code] pairs that can be given to parts, from serial `start` on; others are passed over.
 * @param {number} [start] @returns {Generator<[number, string], void, void>} */
export function* codes(start = 0) {
  for (let serial = start; serial < SERIALS; serial += 1) {
    const six = code(serial);
    if (spellsNothing(six)) yield [serial, six];
  }
}

/** Whether the text is six symbols of which the last one checks.
 * @param {string} text */
export function isCode(text) {
  return text.length === 6 && [...text].every((symbol) => ALPHABET.includes(symbol)) && check(text.slice(0, 5)) === text[5];
}

/** The six symbols of what was typed, or scanned: a bare code, or an address ending in /P/ and a code, whatever host.
 * Throws UnreadableCode.
 * @param {string} text @param {string} [where] */
export function readCode(text, where = '') {
  const shown = quoted(text);
  let tidy = plain(first(text, 300));
  if (/[/:]/.test(tidy)) {
    const found = /^[a-z][a-z0-9+.-]*:\/\/[^/ ]+(?:\/[^ ]*)?\/p\/([^/ ]*)\/?$/su.exec(tidy);
    if (!found || tooMany(text, 300)) {
      throw new UnreadableCode(`${shown} is not one of our labels`, {
        code: 'not-our-label',
        where,
        do: 'Scan a label of this shop, or type the six symbols under it.',
      });
    }
    tidy = found[1];
  }
  /** @type {Record<string, string>} */
  const typedAs = { o: '0', i: '1', l: '1' };
  const symbols = [...tidy.replace(/[ -]/g, '').replace(/[a-z]/g, (typed) => typedAs[typed] ?? typed.toUpperCase())];
  if (symbols.length !== 6) {
    throw new UnreadableCode(symbols.length ? `${shown} has ${symbols.length} symbols, and a code has 6` : 'no code given', {
      code: 'code-length',
      where,
      do: 'Type all six, like K7Q-2MX.',
    });
  }
  const strange = symbols.find((symbol) => !ALPHABET.includes(symbol));
  if (strange) {
    throw new UnreadableCode(`${shown} holds ${quoted(strange)}, which no code uses`, {
      code: 'code-symbol',
      where,
      do: 'A code has digits and capital letters, without I, L, O and U.',
    });
  }
  const six = symbols.join('');
  if (!isCode(six)) {
    throw new UnreadableCode(`${show(six)} does not check: one symbol is wrong, or two are swapped`, {
      code: 'code-check',
      where,
      do: 'Compare it with the label.',
    });
  }
  return six;
}

/** A code as people see it: "K7Q-2MX".
 * @param {string} six */
export function show(six) {
  return `${six.slice(0, 3)}-${six.slice(3)}`;
}

/** What the QR code of a label says; without a host, the code alone.  Throws TypeError if it is not a host's name.
 * @param {string} six @param {string} [host] may carry a port */
export function payload(six, host = '') {
  if (!host) return six;
  if (!/^[A-Za-z0-9.-]+(:[0-9]+)?$/.test(host)) throw new TypeError(`${host} is not the name of a host`);
  return `HTTPS://${host.toUpperCase()}/P/${six}`;
}
