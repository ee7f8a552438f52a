// Which boards are in the rack?  Twin of shopfloor/journal/rack.py, where the registers of a board are explained.
// Both are bound by tests/vectors/rack.json.

import { standing, unique } from './fold.js';

/** @typedef {import('./fold.js').Row} Row */
/** @typedef {{says: Record<string, any>, by: string, at: number, gone: string, cuts: Record<string, string>,
 *   heads: Record<string, string[]>, disagreement: boolean, unread: number}} BoardState */

/** @type {Record<string, string>} */
const ABOUT = { board_measured: 'measures', board_gone: 'there', board_back: 'there' };
const KINDS = new Set([...Object.keys(ABOUT), 'board_cut', 'board_uncut']);

/** @param {string} plan @param {number} cut */
export const cutKey = (plan, cut) => `${plan}/${cut}`;

/** Fold rows into the state of each board, by its id; other rows are passed by.
 * @param {Iterable<Row>} rows @returns {Map<string, BoardState>} */
export function rack(rows) {
  /** @type {Map<string, Row[]>} */
  const byBoard = new Map();
  for (const row of rows) {
    const { kind, part } = row.entry;
    if (!part || !KINDS.has(kind)) continue;
    const own = byBoard.get(part);
    if (own) own.push(row);
    else byBoard.set(part, [row]);
  }
  return new Map([...byBoard].map(([board, own]) => [board, foldBoard(own)]));
}

/** Fold the rows of one board, each entry given once or more.
 * @param {Iterable<Row>} rows @returns {BoardState} */
export function foldBoard(rows) {
  /** @type {BoardState} */
  const state = { says: {}, by: '', at: 0, gone: '', cuts: {}, heads: {}, disagreement: false, unread: 0 };
  /** @type {Map<string, Row[]>} */
  const registers = new Map();
  for (const row of unique(rows)) {
    const name = registerOf(row.entry);
    if (name === null) {
      state.unread += 1;
    } else {
      const own = registers.get(name);
      if (own) own.push(row);
      else registers.set(name, [row]);
    }
  }
  for (const [name, own] of registers) {
    const heads = standing(own);
    const { kind, body, device, at } = heads[heads.length - 1].entry;
    put(state.heads, name, heads.map(({ entry }) => entry.id).sort());
    if (name === 'measures') {
      Object.assign(state, { says: body, by: device, at });
      state.disagreement = heads.some(({ entry }) => plain(entry.body) !== plain(body));
    } else if (name === 'there') {
      const { reason } = body;
      state.gone = kind !== 'board_gone' ? '' : typeof reason === 'string' && reason ? reason : 'gone';
    } else if (kind === 'board_cut') {
      put(state.cuts, name, device);
    }
  }
  return state;
}

/** Also a name like "__proto__" is only a name here.
 * @template T @param {Record<string, T>} into @param {string} name @param {T} value */
function put(into, name, value) {
  Object.defineProperty(into, name, { value, enumerable: true, configurable: true, writable: true });
}

/** A value as text, its keys in order: two that say the same are equal.
 * @param {unknown} value @returns {string} */
function plain(value) {
  if (Array.isArray(value)) return `[${value.map(plain).join()}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  const own = /** @type {Record<string, unknown>} */ (value);
  return `{${Object.keys(own).sort().map((key) => `${JSON.stringify(key)}:${plain(own[key])}`).join()}}`;
}

/** The register that an entry about a board writes; null if this version cannot read it.
 * @param {import('./fold.js').Entry} entry @returns {string | null} */
function registerOf({ kind, v, body }) {
  if (v !== 1) return null;
  if (Object.hasOwn(ABOUT, kind)) return ABOUT[kind];
  const { plan, cut } = body;
  return typeof plan === 'string' && plan && Number.isInteger(cut) && cut >= 0 ? cutKey(plan, cut) : null;
}
