// What is written when somebody presses?  One line of the journal, made once.  Pure: ids and the clock come in.

import { tick } from '../journal/clock.js';

/** @typedef {import('../journal/fold.js').Entry} Entry */
/** @typedef {import('../journal/clock.js').Stamp} Stamp */

/** Who writes: the phone, its incarnation, the number of its last entry, and the last moment that it has seen.
 * @typedef {{device: string, incarnation: string, number: number, hlc: Stamp}} Writer */
/** What is to be written, before the store knows what else stands in the register.
 * @typedef {{id: string, kind: string, part: string, body: Record<string, any>}} Draft */

/** 32 hex digits, random.
 * @returns {string} */
export function newId() {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** "Mortises cut" has been pressed, or taken back.
 * @param {string} part @param {string} step @param {boolean} done @returns {Draft} */
export function stepDraft(part, step, done) {
  return { id: newId(), kind: done ? 'step_done' : 'step_undone', part, body: { step } };
}

/** The entry, and the writer after it.
 * @param {Draft} draft @param {Writer} writer @param {string[]} base  the heads of its register
 * @param {number} now  milliseconds by this phone's clock @returns {{entry: Entry, writer: Writer}} */
export function enter({ id, kind, part, body }, writer, base, now) {
  const number = writer.number + 1;
  const hlc = tick(writer.hlc, now);
  const { device, incarnation } = writer;
  return {
    entry: { id, device, incarnation, number, hlc, at: now, kind, v: 1, part, base, body },
    writer: { ...writer, number, hlc },
  };
}

const KNOWN = new Set(['step_done', 'step_undone', 'noted', 'measured', 'held', 'spoiled', 'lifted']);

/** Whether this version of the app understands an entry.  If not, it is kept and counted.
 * @param {Entry} entry */
export function isKnown({ kind, v }) {
  return v === 1 && KNOWN.has(kind);
}
