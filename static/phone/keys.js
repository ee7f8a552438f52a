// Typing a code with a thumb in a glove: a few large keys of four symbols each, then one of the four.  Pure.
//
// Whoever prefers the phone's own keyboard touches the field.

/** @typedef {{typed: string, group: string}} Typing */

/** The symbols that codes on labels are made of: of the 32, those that nobody reads a word into (trade/code.js). */
export const LABEL_KEYS = ['2567', '89BC', 'DFGH', 'JKMN', 'PQRS', 'TWXZ'];
/** All 32: the office's one-time code. */
export const ALL_KEYS = ['0123', '4567', '89AB', 'CDEF', 'GHJK', 'MNPQ', 'RSTV', 'WXYZ'];

/** @type {Typing} */
export const EMPTY = { typed: '', group: '' };

/** A key was pressed: a group opens; a symbol is added, up to `most`.
 * @param {Typing} typing @param {string} key @param {number} most @returns {Typing} */
export function press({ typed, group }, key, most) {
  if (key.length > 1) return { typed, group: key };
  return { typed: (typed + key).slice(0, most), group: group && '' };
}

/** An open group is left; else the last symbol goes.
 * @param {Typing} typing @returns {Typing} */
export function rubOut({ typed, group }) {
  return group ? { typed, group: '' } : { typed: typed.slice(0, -1), group: '' };
}

/** What the phone's own keyboard made: only symbols of codes, as they are read.
 * @param {string} text @param {number} most */
export function symbols(text, most) {
  return text
    .toUpperCase()
    .replace(/O/g, '0')
    .replace(/[IL]/g, '1')
    .replace(/[^0-9A-HJKMNP-TV-Z]/g, '')
    .slice(0, most);
}
