// Reads QR codes beside the page, so that the page stays quick.  The decoder is compiled from our own files.
//
// In:  {id, warm: true}, or {id, pass, piece, bitmap} or {id, pass, piece, pixels}: a piece of the camera's picture.
// Out: {id, text} (null: no code in it), or {id, trouble, says}: 'bitmap' (pieces must come as pixels here) or
//      'decoder' (there is none).

import { prepareZXingModule, readBarcodes } from '../vendor/zxing-wasm/es/reader/index.js';
import { doubled, grey, rgba, sharpened } from './frame.js';

/** @typedef {import('./frame.js').Pass} Pass */
/** @typedef {{id: number, warm?: true, pass: Pass, piece: import('./frame.js').Piece, bitmap?: ImageBitmap,
 *   pixels?: ArrayBuffer}} Asked */
/** @typedef {{id: number, text?: string | null, trouble?: 'bitmap' | 'decoder', says?: string}} Answered */

const WASM = new URL('../vendor/zxing-wasm/reader/zxing_reader.wasm', import.meta.url).href;

// Denoising closes thin gaps in the corner squares (a crease, dust): 2 to 3 more labels of a hundred, no wrong ones.
// An inverted code is never ours.
const OPTIONS = {
  formats: ['QRCode'],
  maxNumberOfSymbols: 1,
  tryHarder: true,
  tryRotate: true,
  tryInvert: false,
  tryDenoise: true,
  textMode: /** @type {const} */ ('Plain'),
};

/** @type {Promise<unknown> | null} */
let ready = null;

/** The decoder, compiled; a failure (no signal before the app was kept) is tried again the next time. */
function decoder() {
  ready ??= prepareZXingModule({ overrides: { locateFile: () => WASM }, fireImmediately: true }).catch((err) => {
    ready = null;
    throw err;
  });
  return ready;
}

self.addEventListener('message', async ({ data }) => {
  const asked = /** @type {Asked} */ (data);
  /** @type {Answered} */
  let answered;
  try {
    answered = await answer(asked);
  } catch (err) {
    answered = { id: asked.id, trouble: 'decoder', says: String(err) };
  }
  asked.bitmap?.close();
  self.postMessage(answered);
});

/** @param {Asked} asked @returns {Promise<Answered>} */
async function answer({ id, warm, pass, piece, bitmap, pixels }) {
  await decoder();
  if (warm) return { id, text: null };
  let image;
  try {
    image = bitmap ? drawn(bitmap, piece) : given(pixels ?? new ArrayBuffer(0), piece);
  } catch (err) {
    return { id, trouble: 'bitmap', says: String(err) };
  }
  if (pass === 'sharp') image = rgba(doubled(sharpened(grey(image.data, image.width, image.height))));
  const [found] = await readBarcodes(image, OPTIONS);
  return { id, text: found?.isValid ? found.text : null };
}

/** @param {ArrayBuffer} pixels @param {import('./frame.js').Piece} piece */
function given(pixels, { toWidth, toHeight }) {
  return { data: new Uint8ClampedArray(pixels), width: toWidth, height: toHeight };
}

/** @type {OffscreenCanvas | null} */
let canvas = null;

/** The pixels of a bitmap, in the size that the piece is read in.
 * @param {ImageBitmap} bitmap @param {import('./frame.js').Piece} piece */
function drawn(bitmap, { toWidth, toHeight }) {
  canvas ??= new OffscreenCanvas(toWidth, toHeight);
  if (canvas.width !== toWidth) canvas.width = toWidth;
  if (canvas.height !== toHeight) canvas.height = toHeight;
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (!pen) throw new Error('a worker cannot draw here');
  pen.drawImage(bitmap, 0, 0, toWidth, toHeight);
  return pen.getImageData(0, 0, toWidth, toHeight);
}
