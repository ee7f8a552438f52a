// Who reads the label: the browser's own reader, or ours in a worker?
//
// The browser's own is trusted only after it has read a symbol that we know: in some browsers it is there and reads
// nothing, or throws, or never answers.  When it then finds nothing for a while, both take turns.

import { passOf } from './frame.js';
import { reader } from './reader.js';

/** @typedef {import('./reader.js').View} View */
/** The browser's own reader, of which TypeScript's library does not know.
 * @typedef {{detect(source: CanvasImageSource): Promise<{rawValue: string}[]>}} Native */
/** @typedef {{new (options: {formats: string[]}): Native, getSupportedFormats(): Promise<string[]>}} NativeKind */

const PROOF = new URL('./proof.png', import.meta.url).href;
const PROOF_SAYS = 'K7Q2MX';
const PROVEN_WITHIN = 1_500;
const ALONE = 3_000; // milliseconds that the browser's own reader is tried alone
const LONGEST = 1_500; // for one picture
const MISHAPS = 3;

/** @param {{worker?: ReturnType<typeof reader>, native?: NativeKind, proof?: () => Promise<CanvasImageSource>,
 *   now?: () => number}} [with_] */
export function decoder({
  worker = reader(),
  native = /** @type {{BarcodeDetector?: NativeKind}} */ (/** @type {unknown} */ (globalThis)).BarcodeDetector,
  proof = loadProof,
  now = () => performance.now(),
} = {}) {
  /** @type {Native | null} */
  let own = null;
  let mishaps = 0;
  let lastRead = 0;
  let number = 0;

  /** @type {Promise<void> | null} */
  let proven = null;

  async function prove() {
    if (!native) return;
    const formats = await within(PROVEN_WITHIN, native.getSupportedFormats());
    if (!formats.includes('qr_code')) return;
    const candidate = new native({ formats: ['qr_code'] });
    const [found] = await within(PROVEN_WITHIN, proof().then((picture) => candidate.detect(picture)));
    if (found?.rawValue === PROOF_SAYS) own = candidate;
  }

  /** @param {View} view */
  async function ask(view) {
    if (!own) return null;
    try {
      const [found] = await within(LONGEST, own.detect(view.source));
      if (found) lastRead = now();
      return found?.rawValue ?? null;
    } catch {
      mishaps += 1;
      if (mishaps >= MISHAPS) own = null;
      return null;
    }
  }

  return {
    /** Get ready, once.  Rejects with NoDecoder if nobody can read. */
    async warm() {
      const warmed = worker.warm();
      proven ??= prove().catch(() => undefined);
      const [ours] = await Promise.allSettled([warmed, proven]);
      if (ours.status === 'rejected' && !own) throw ours.reason;
    },
    /** A new picture begins: count afresh. */
    begin() {
      lastRead = now();
      number = 0;
    },
    /** Who reads now. */
    by: () => (own ? 'browser' : 'worker'),
    /** What the camera's picture says, or null.  Rejects with NoDecoder.
     * @param {View} view @returns {Promise<string | null>} */
    async read(view) {
      number += 1;
      if (!own) return worker.read(view, passOf(number));
      if (now() - lastRead < ALONE || number % 2) return ask(view);
      return worker.read(view, passOf(number / 2)).catch((err) => {
        if (own) return null;
        throw err;
      });
    },
    /** What a photograph says, or null: all ways of looking, one after the other.
     * @param {View} view */
    async readPhotograph(view) {
      for (const pass of /** @type {const} */ (['whole', 'plain', 'sharp'])) {
        const text = await worker.read(view, pass);
        if (text !== null) return text;
      }
      return ask(view);
    },
  };
}

/** @returns {Promise<CanvasImageSource>} */
async function loadProof() {
  const picture = new Image();
  picture.src = PROOF;
  await picture.decode();
  return picture;
}

/** The promise's value, or a rejection when it takes too long.
 * @template T @param {number} milliseconds @param {Promise<T>} promise @returns {Promise<T>} */
export function within(milliseconds, promise) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error('too late')), milliseconds);
  });
  return Promise.race([promise, /** @type {Promise<never>} */ (late)]).finally(() => clearTimeout(timer));
}
