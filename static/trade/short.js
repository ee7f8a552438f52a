// What if it came out short?  Where an error in the length lands.  Twin of shopfloor/trade/short.py (what becomes of an end)
// and of reading.py, as far as nothing is typed here; vectors: short.json.

/** @typedef {import('../phone/pack.js').Said} Said */
/** What of a part an error at its far end can reach; `mates` are pair letters with the codes of the other parts.
 * @typedef {{how: 'less' | 'sooner' | 'behind', what: string, size: number, reach: number, way: string,
 *   within: '' | 'flush' | 'holds' | 'corner' | 'groove' | 'dado', mates: [string, string][]}} End */
/** @typedef {{says: Said, mates: [string, string][], spoiled: boolean}} Touched */

const FAR_OFF = 6_350_000;
const BURNT = { in: [25_400_000], mm: [10_000_000, 100_000_000] };

/** What becomes of an end where `short` nanometres are missing; null if nobody would notice.
 * @param {End} end @param {number} short @returns {Touched | null} */
export function after(end, short) {
  const { how, what, size, way, within, reach, mates = [] } = end;
  if (how === 'sooner') return { says: [`${what} ends `, short, ' sooner'], mates, spoiled: false };
  if (how === 'behind') return 4 * short < size ? null : { says: behind(end, short), mates, spoiled: short >= size };
  const many = what.endsWith('s');
  /** @type {Said} */
  const says =
    short < size
      ? [`${what} ${many ? 'are' : 'is'} `, size - short, ` ${way} instead of `, size]
      : [`${what} ${many ? 'are' : 'is'} gone: ${many ? 'they were' : 'it was'} `, size, ` ${way}`];
  return { says: [...says, ...inMate(end, short)], mates, spoiled: short >= (taker(within) ? reach : size) };
}

/** @param {End['within']} within */
const taker = (within) => within === 'groove' || within === 'dado';

/** @param {End} end @param {number} short @returns {Said} */
function behind({ what, size, reach }, short) {
  if (short < size) return [`wood behind the ${what} is `, size - short, ' instead of ', size];
  if (short === size) return [`wood behind the ${what} is gone: it was `, size];
  if (short >= size + reach) return [`${what} lies beyond the wood`];
  return [`${what} runs out at the end: `, short - size, ' of it has no wood'];
}

/** @param {End} end @param {number} short @returns {Said} */
function inMate({ size, reach, within }, short) {
  if (taker(within)) {
    return short < reach ? ['; it goes ', short, ` less into its ${within}`] : [`; it does not reach its ${within} any more`];
  }
  if (!within || short === size) return [];
  if (short > size) return [`; ${within === 'corner' ? 'the corner stands' : 'its shoulders stand'} `, short - size, ' open'];
  if (within === 'flush') return ['; it will not come through flush: ', short, ' is missing'];
  if (within === 'holds') return ['; it holds ', short, ' less, its shoulders still close'];
  return ['; the corner will not be flush outside'];
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

const A_UNIT = { in: 25_400_000, mm: 1_000_000 };

/** A length as somebody types it at the bench: "14 3/8", "3/8", "14.375"; 0 if it is none.  The phone carries no more of
 * the reading (length.js) than this.
 * @param {string} text @param {'in' | 'mm'} unit */
export function typedLength(text, unit) {
  const found = /^(?:(?:(\d+) )?(\d+)\/(\d+)|(\d+(?:[.,]\d+)?))$/.exec(text.trim().replace(/\s+/g, ' '));
  if (!found) return 0;
  const [, whole = 0, num, den, decimal] = found;
  const nm = Math.round(A_UNIT[unit] * (decimal ? +decimal.replace(',', '.') : +whole + +num / +den));
  return Number.isSafeInteger(nm) ? nm : 0;
}

/** Why a reading is asked about before it is taken; null if it can be.
 * @param {number} wanted @param {number} reading @param {'in' | 'mm'} unit @returns {Said | null} */
export function doubt(wanted, reading, unit) {
  const off = Math.abs(reading - wanted);
  if (BURNT[unit].includes(off)) return ['exactly ', off, ' off: was the tape held at its mark and that not counted?'];
  return off < FAR_OFF ? null : ['that is ', off, ' off: measure again'];
}
