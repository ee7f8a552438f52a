// Which characters did the person mean?  Twin of shopfloor/trade/typed.py, where the rules are explained.

/** Characters that a cell with one size or one count can have. */
export const MOST = 80;

const NOTHING = '\u00ad\u200b-\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff';
const SPACES = '\t\n\v\f\r\u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000';
const DASHES = '\u2010-\u2015\u2212\ufe58\ufe63\uff0d';
const SLASHES = '\u2044\u2215\u29f8\uff0f';
const FEET = '`\u00b4\u02b9\u02bc\u2018\u2019\u201a\u201b\u2032\uff07';
const INCHES = '\u02ba\u201c\u201d\u201e\u201f\u2033\u3003\uff02';
const SUPERSCRIPTS = '\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079';
const SUBSCRIPTS = '\u2080\u2081\u2082\u2083\u2084\u2085\u2086\u2087\u2088\u2089';
const FULL_WIDTH = '\uff10\uff11\uff12\uff13\uff14\uff15\uff16\uff17\uff18\uff19';
/** @type {Record<string, string>} */
const FRACTIONS = {
  '\u00bc': '1/4', '\u00bd': '1/2', '\u00be': '3/4', '\u2150': '1/7', '\u2151': '1/9', '\u2152': '1/10',
  '\u2153': '1/3', '\u2154': '2/3', '\u2155': '1/5', '\u2156': '2/5', '\u2157': '3/5', '\u2158': '4/5',
  '\u2159': '1/6', '\u215a': '5/6', '\u215b': '1/8', '\u215c': '3/8', '\u215d': '5/8', '\u215e': '7/8',
  '\u215f': '1/', '\u2189': '0/3',
};
const WHOLE_FRACTIONS = Object.keys(FRACTIONS).filter((sign) => !FRACTIONS[sign].endsWith('/')).join('');

/** @param {string} signs */
const any = (signs) => new RegExp(`[${signs}]`, 'gu');
const DROPPED = any(NOTHING);
const FRACTION_THEN_DIGIT = new RegExp(`([${WHOLE_FRACTIONS}])([0-9])`, 'gu');
const DIGIT_THEN_FRACTION = new RegExp(`([0-9])([${WHOLE_FRACTIONS}\u215f${SUPERSCRIPTS}])`, 'gu');
const FRACTION = any(Object.keys(FRACTIONS).join(''));
const DIGIT = any(SUPERSCRIPTS + SUBSCRIPTS + FULL_WIDTH);
/** @type {[RegExp, string][]} */
const SIGNS = [
  [any(SPACES), ' '], [any(DASHES), '-'], [any(SLASHES), '/'], [any(FEET), "'"], [any(INCHES), '"'],
  [/\uff0e/gu, '.'], [/\uff0c/gu, ','],
];
const STEERING = /[\0-\x1f\x7f-\x9f\u2028\u2029]/gu;
const LONE = /[\ud800-\udfff]/gu;

/** The text in plain signs: small letters, single spaces, `-`, `/`, `'` and `"`, fractions as `n/d`.
 * @param {string} text */
export function plain(text) {
  let made = text.replace(DROPPED, '').replace(FRACTION_THEN_DIGIT, '$1 $2').replace(DIGIT_THEN_FRACTION, '$1 $2');
  for (const [signs, meant] of SIGNS) made = made.replace(signs, meant);
  made = made.replace(FRACTION, (sign) => FRACTIONS[sign]);
  made = made.replace(DIGIT, (sign) => {
    const set = [SUPERSCRIPTS, SUBSCRIPTS, FULL_WIDTH].find((digits) => digits.includes(sign)) ?? '';
    return String(set.indexOf(sign));
  });
  // Only A to Z: what other letters become depends on whose tables are asked.
  made = made.replace(/[A-Z]+/g, (letters) => letters.toLowerCase()).replace(/ +/g, ' ');
  return made.replace(/^ | $/g, '').replaceAll("''", '"');
}

/** The first `most` characters, counted as Python counts them.
 * @param {string} text @param {number} most */
export function first(text, most) {
  return [...text.slice(0, 2 * most)].slice(0, most).join('');
}

/** Whether the text is longer than any size; asked first, so that a pasted book costs nothing.
 * @param {string} text @param {number} [most] */
export function tooMany(text, most = MOST) {
  return text.length > 2 * most || [...text].length > most;
}

/** The text between quotes, for a sentence: nothing that steers a screen, and cut short after 40 characters.
 * @param {string} text */
export function quoted(text) {
  const tidy = first(text, MOST + 1).replace(DROPPED, '').replace(STEERING, ' ').replace(LONE, '\ufffd');
  const shown = tidy.replace(/^ +| +$/g, '');
  return tooMany(shown, 40) ? `"${first(shown, 40)}..."` : `"${shown}"`;
}

// --- dates ---

/** @type {Record<string, number>} */
const MONTHS = {
  jan: 1, jän: 1, ene: 1, feb: 2, fev: 2, fév: 2, mar: 3, mär: 3, mrz: 3, apr: 4, avr: 4, abr: 4, may: 5, mai: 5,
  jun: 6, juin: 6, jul: 7, juil: 7, aug: 8, aou: 8, aoû: 8, ago: 8, sep: 9, oct: 10, okt: 10, nov: 11,
  dec: 12, dez: 12, déc: 12, dic: 12,
};
const TAPE = [2, 4, 8, 16, 32, 64];
const DAY_MONTH = /^([0-9]{1,2})\.?[ -]?([a-zäéû]{3,9})\.?(?:[ -]([0-9]{4}|[0-9][0-9]))?$/u;
const MONTH_DAY = /^([a-zäéû]{3,9})\.?[ -]([0-9]{1,2})(?:,? ([0-9]{4}))?$/u;
const LEADING_ZERO = /^(?:(0[0-9])\/([0-9]{1,2})|([0-9]{1,2})\/(0[0-9]))$/u;
const YEAR_FIRST = /^([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})(?:[ t][0-9].*)?$/su;
const YEAR_LAST = /^([0-9]{1,2})([-/.])([0-9]{1,2})\2(?:[0-9]{4}|[0-9][0-9])(?:[ t][0-9].*)?$/su;

/** Null unless plain `text` is a date; else the fractions on a tape that a spreadsheet makes into it.
 * @param {string} text @returns {string[] | null} */
export function dateMeant(text) {
  let found = YEAR_FIRST.exec(text);
  if (found) {
    const [year, month, day] = found.slice(1).map(Number);
    return onTape([[month, day], [day, month], ...(day === 1 ? [[month, year % 100]] : [])]);
  }
  found = YEAR_LAST.exec(text);
  if (found) return onTape([[+found[1], +found[3]], [+found[3], +found[1]]]);
  found = LEADING_ZERO.exec(text);
  if (found) return onTape([[+(found[1] ?? found[3]), +(found[2] ?? found[4])]]);
  found = DAY_MONTH.exec(text);
  if (found && month(found[2])) return onTape([[month(found[2]), +found[1]], [+found[1], month(found[2])]]);
  found = MONTH_DAY.exec(text);
  if (found && month(found[1])) return onTape([[month(found[1]), +found[2]]]);
  return null;
}

/** @param {string} name */
function month(name) {
  const short = /^jui[nl]/.test(name) ? name.slice(0, 4) : name.slice(0, 3);
  return Object.hasOwn(MONTHS, short) ? MONTHS[short] : 0;
}

/** @param {number[][]} pairs */
function onTape(pairs) {
  return [...new Set(pairs.filter(([, below]) => TAPE.includes(below)).map(([above, below]) => `${above}/${below}`))];
}
