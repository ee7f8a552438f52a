// The page's end of worker.js: hands it pieces of pictures, one after the other, and waits for what they say.

import { pieceOf } from './frame.js';
import { NoDecoder } from './trouble.js';

/** @typedef {import('./frame.js').Pass} Pass */
/** What can be drawn, and how large it is.
 * @typedef {{source: CanvasImageSource & ImageBitmapSource, width: number, height: number}} View */

const PATIENCE = 15_000; // milliseconds for one answer: a cold start on a slow phone, with room

/** @param {() => Worker} [hire]  makes the worker */
export function reader(hire = () => new Worker(new URL('./worker.js', import.meta.url), { type: 'module' })) {
  /** @type {Worker | null} */
  let worker = null;
  /** @type {Map<number, {done: (answered: import('./worker.js').Answered) => void, failed: (err: Error) => void}>} */
  const waiting = new Map();
  let last = 0;
  // Not every browser hands pictures to workers; then the page draws.
  let bitmaps = typeof OffscreenCanvas !== 'undefined' && typeof createImageBitmap !== 'undefined';

  /** A worker that died is replaced the next time it is asked.
   * @param {string} why */
  function dismiss(why) {
    worker?.terminate();
    worker = null;
    for (const { failed } of waiting.values()) failed(new NoDecoder(why));
    waiting.clear();
  }

  function employ() {
    const hired = hire();
    hired.addEventListener('message', ({ data }) => {
      const answered = /** @type {import('./worker.js').Answered} */ (data);
      waiting.get(answered.id)?.done(answered);
      waiting.delete(answered.id);
    });
    hired.addEventListener('error', (event) => {
      event.preventDefault();
      if (hired === worker) dismiss(event.message || 'the worker could not be loaded');
    });
    return hired;
  }

  /** @param {Record<string, unknown>} asked @param {Transferable[]} [given]
   * @returns {Promise<import('./worker.js').Answered>} */
  async function ask(asked, given = []) {
    worker ??= employ();
    const id = (last += 1);
    const answered = new Promise((done, failed) => waiting.set(id, { done, failed }));
    worker.postMessage({ ...asked, id }, given);
    const timer = setTimeout(() => waiting.has(id) && dismiss('no answer'), PATIENCE);
    try {
      return await answered;
    } finally {
      clearTimeout(timer);
    }
  }

  return {
    /** Load and compile the decoder, so that the first label does not wait for it.  Rejects with NoDecoder. */
    async warm() {
      const { trouble, says } = await ask({ warm: true });
      if (trouble) throw new NoDecoder(says);
    },
    /** What the picture says, or null.  Rejects with NoDecoder.
     * @param {View} view @param {Pass} pass @returns {Promise<string | null>} */
    async read(view, pass) {
      const piece = pieceOf(pass, view.width, view.height);
      const { x, y, width, height } = piece;
      if (bitmaps) {
        const bitmap = await createImageBitmap(view.source, x, y, width, height).catch(() => null);
        const answered = bitmap && (await ask({ pass, piece, bitmap }, [bitmap]));
        if (answered?.trouble === 'decoder') throw new NoDecoder(answered.says);
        if (answered && !answered.trouble) return answered.text ?? null;
        bitmaps = false;
      }
      const { buffer } = pixels(view, piece).data;
      const answered = await ask({ pass, piece, pixels: buffer }, [buffer]);
      if (answered.trouble) throw new NoDecoder(answered.says);
      return answered.text ?? null;
    },
  };
}

/** @type {HTMLCanvasElement | null} */
let canvas = null;

/** The pixels of a piece, drawn on the page.
 * @param {View} view @param {import('./frame.js').Piece} piece */
export function pixels({ source }, { x, y, width, height, toWidth, toHeight }) {
  canvas ??= document.createElement('canvas');
  if (canvas.width !== toWidth) canvas.width = toWidth;
  if (canvas.height !== toHeight) canvas.height = toHeight;
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (!pen) throw new NoDecoder('the page cannot draw here');
  pen.drawImage(source, x, y, width, height, 0, 0, toWidth, toHeight);
  return pen.getImageData(0, 0, toWidth, toHeight);
}
