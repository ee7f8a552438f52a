// Which piece of the camera's picture is read, and how is it made sharper?  Pure: numbers in, numbers out.
//
// Measured on 400 damaged labels: the middle of the picture as it is (plain) reads 43 to 50 in a hundred frames; the same,
// doubled and sharpened, reads others, so that both together read 52 to 58.  Hence they take turns.

/** @typedef {'plain' | 'sharp' | 'whole'} Pass */
/** A piece of a picture, and the size in which it is read; pixels.
 * @typedef {{x: number, y: number, width: number, height: number, toWidth: number, toHeight: number}} Piece */
/** A picture in grey, a byte a pixel, rows from the top.
 * @typedef {{data: Uint8Array, width: number, height: number}} Grey */

const MIDDLE = 0.65; // of the short side: the corners on the screen stand about there
const ENOUGH = 700; // pixels: a smaller picture is read to its edges
const LONGEST = 1280; // of the whole picture

/** The pass of a frame, counted from 1: the fourth looks at the whole picture, for a label held beside the corners.
 * @param {number} number @returns {Pass} */
export function passOf(number) {
  if (number % 4 === 0) return 'whole';
  return number % 2 ? 'plain' : 'sharp';
}

/** What a pass reads of a picture of this size.
 * @param {Pass} pass @param {number} width @param {number} height @returns {Piece} */
export function pieceOf(pass, width, height) {
  if (pass === 'whole') {
    const scale = Math.min(1, LONGEST / Math.max(width, height));
    return { x: 0, y: 0, width, height, toWidth: Math.round(width * scale), toHeight: Math.round(height * scale) };
  }
  const short = Math.min(width, height);
  const square = Math.min(short, Math.max(ENOUGH, Math.round(short * MIDDLE)));
  const side = pass === 'sharp' ? Math.round(square / 2) : square;
  const [x, y] = [Math.floor((width - side) / 2), Math.floor((height - side) / 2)];
  return { x, y, width: side, height: side, toWidth: side, toHeight: side };
}

/** Red, green, blue and opacity to grey: 0.299 R + 0.587 G + 0.114 B (Rec. ITU-R BT.601), in 1024ths.
 * @param {ArrayLike<number>} rgba @param {number} width @param {number} height @returns {Grey} */
export function grey(rgba, width, height) {
  const data = new Uint8Array(width * height);
  for (let at = 0, from = 0; at < data.length; at += 1, from += 4) {
    data[at] = (306 * rgba[from] + 601 * rgba[from + 1] + 117 * rgba[from + 2] + 512) >> 10;
  }
  return { data, width, height };
}

/** Grey back to four bytes a pixel, which is what the decoder takes.
 * @param {Grey} picture */
export function rgba({ data, width, height }) {
  const out = new Uint8ClampedArray(width * height * 4);
  for (let at = 0, to = 0; at < data.length; at += 1, to += 4) {
    out[to] = out[to + 1] = out[to + 2] = data[at];
    out[to + 3] = 255;
  }
  return { data: out, width, height };
}

/** How light a picture is on the whole, 0 to 255; 0 if there is nothing to see.
 * @param {Grey} picture */
export function lightness({ data }) {
  let sum = 0;
  for (const value of data) sum += value;
  return data.length ? sum / data.length : 0;
}

/** Twice as wide and high, bilinear: a new pixel lies a quarter from its nearest old one, so it takes 3/4 of that and 1/4 of
 * the next, in both directions; the edge goes on as it is.
 * @param {Grey} picture @returns {Grey} */
export function doubled({ data, width, height }) {
  const [wide, high] = [width * 2, height * 2];
  const out = new Uint8Array(wide * high);
  for (let y = 0; y < high; y += 1) {
    const near = (y >> 1) * width;
    const next = Math.min(height - 1, Math.max(0, (y >> 1) + (y & 1 ? 1 : -1))) * width;
    for (let x = 0; x < wide; x += 1) {
      const a = x >> 1;
      const b = Math.min(width - 1, Math.max(0, a + (x & 1 ? 1 : -1)));
      out[y * wide + x] = (9 * data[near + a] + 3 * (data[near + b] + data[next + a]) + data[next + b] + 8) >> 4;
    }
  }
  return { data: out, width: wide, height: high };
}

const RADII = [2, 3, 3]; // running means of 5, 7 and 7 pixels: variance 2 + 4 + 4 = 10, a Gauss curve of 3.2 pixels
const AMOUNT = 1.2;

/** Sharpened: 2.2 times the picture less 1.2 times the same blurred, kept within 0 to 255.
 * @param {Grey} picture @returns {Grey} */
export function sharpened({ data, width, height }) {
  const blurred = blur({ data, width, height });
  const out = new Uint8Array(data.length);
  for (let at = 0; at < data.length; at += 1) {
    const value = Math.round((1 + AMOUNT) * data[at] - AMOUNT * blurred[at]);
    out[at] = value < 0 ? 0 : value > 255 ? 255 : value;
  }
  return { data: out, width, height };
}

/** Blurred, not rounded; the edge goes on as it is.  Three running means are within a few percent of a Gauss curve, at a
 * cost that does not grow with its width.
 * @param {Grey} picture */
function blur({ data, width, height }) {
  let from = Float32Array.from(data);
  let to = new Float32Array(data.length);
  for (const radius of RADII) {
    for (let y = 0; y < height; y += 1) run(from, to, y * width, 1, width, radius);
    [from, to] = [to, from];
    for (let x = 0; x < width; x += 1) run(from, to, x, width, height, radius);
    [from, to] = [to, from];
  }
  return from;
}

/** The running mean along one row or column: `count` values from `start` on, `step` apart.
 * @param {Float32Array} from @param {Float32Array} to @param {number} start @param {number} step @param {number} count
 * @param {number} radius */
function run(from, to, start, step, count, radius) {
  const last = start + (count - 1) * step;
  const share = 1 / (2 * radius + 1);
  let sum = from[start] * (radius + 1);
  for (let ahead = 1; ahead <= radius; ahead += 1) sum += from[Math.min(last, start + ahead * step)];
  for (let at = start; at <= last; at += step) {
    to[at] = sum * share;
    sum += from[Math.min(last, at + (radius + 1) * step)] - from[Math.max(start, at - radius * step)];
  }
}
