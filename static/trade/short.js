// What if it came out short?  Where an error in the length lands.  Twin of shopfloor/trade/short.py (what becomes of an end)
// and of reading.py, as far as nothing is typed here; vectors: short.json.

/** @typedef {import('../phone/pack.js').Said} Said */
/** What of a part an error at its far end can reach.
 * @typedef {{how: 'less' | 'sooner' | 'behind', what: string, size: number, way: string, letter: string, mate: string,
 *   within: '' | 'flush' | 'holds' | 'corner'}} End */
/** @typedef {{says: Said, letter: string, mate: string, spoiled: boolean}} Touched */

const FAR_OFF = 6_350_000;
const BURNT = { in: [25_400_000], mm: [10_000_000, 100_000_000] };

/** What becomes of an end where `short` nanometres are missing; null if nobody would notice.
 * @param {End} end @param {number} short @returns {Touched | null} */
export function after({ how, what, size, way, letter, mate, within }, short) {
  const many = what.endsWith('s');
  const spoiled = how === 'less' ? short >= size : how === 'behind' && short > size;
  if (how === 'behind' && 4 * short < size) return null;
  /** @type {Said} */
  let says = [`${what} ends `, short, ' sooner'];
  if (how === 'behind') {
    says = spoiled
      ? [`${what} runs out at the end: `, short - size, ' of it has no wood']
      : [`wood behind the ${what} is `, size - short, ' instead of ', size];
  } else if (how === 'less') {
    says = spoiled
      ? [`${what} ${many ? 'are' : 'is'} gone: ${many ? 'they were' : 'it was'} `, size, ` ${way}`]
      : [`${what} ${many ? 'are' : 'is'} `, size - short, ` ${way} instead of `, size];
  }
  return { says: [...says, ...inMate(within, short)], letter, mate, spoiled };
}

/** @param {End['within']} within @param {number} short @returns {Said} */
function inMate(within, short) {
  if (within === 'flush') return ['; it will not come through flush: ', short, ' is missing'];
  if (within === 'holds') return ['; it holds ', short, ' less, its shoulders still close'];
  return within === 'corner' ? ['; the corner will not be flush outside'] : [];
}

/** Where a real length lands: which marks are lost, and what is touched.
 * @param {{length: number, marks: readonly {at: number}[], ends?: readonly End[]}} part @param {number} real
 * @returns {{says: Said, touched: Touched[]}} */
export function landed({ length, marks, ends = [] }, real) {
  const off = real - length;
  if (off >= 0) return { says: off ? ['at the far end ', off, ' too long: cut it there'] : ['as drawn'], touched: [] };
  const lost = marks.filter(({ at }) => at >= real).length;
  const beyond = lost ? `${lost} mark${lost > 1 ? 's' : ''} beyond the wood` : 'every mark stays';
  return {
    says: ['at the far end ', -off, ` short; ${beyond}`],
    touched: ends.flatMap((end) => after(end, -off) ?? []),
  };
}

/** Why a reading is asked about before it is taken; null if it can be.
 * @param {number} wanted @param {number} reading @param {'in' | 'mm'} unit @returns {Said | null} */
export function doubt(wanted, reading, unit) {
  const off = Math.abs(reading - wanted);
  if (BURNT[unit].includes(off)) return ['exactly ', off, ' off: was the tape held at its mark and that not counted?'];
  return off < FAR_OFF ? null : ['that is ', off, ' off: measure again'];
}
