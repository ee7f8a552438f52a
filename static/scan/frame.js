// Which piece of the camera's picture is read, and how is it made sharper?  Pure: numbers in, numbers out.
//
// Measured on 400 damaged labels: the middle of the picture as it is (plain) reads 43 to 50 in a hundred frames; the
// same, sharpened and doubled, reads others, so that both together read 52 to 58.  Hence they take turns.

/** @typedef {'plain' | 'sharp' | 'whole'} Pass */
/** A piece of a picture, and the size in which it is read; pixels.
 * @typedef {{x: number, y: number, width: number, height: number, toWidth: number, toHeight: number}} Piece */
/** A picture in grey, a byte a pixel, rows from the top.
 * @typedef {{data: Uint8ClampedArray, width: number, height: number}} Grey */

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
  const data = new Uint8ClampedArray(width * height);
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

/** Twice as wide and high, bilinear: a new pixel lies a quarter from its nearest old one, so it takes 3/4 of that and
 * 1/4 of the next, in both directions; the edge goes on as it is.
 * @param {Grey} picture @returns {Grey} */
export function doubled({ data, width, height }) {
  const [wide, high] = [width * 2, height * 2];
  const out = new Uint8ClampedArray(wide * high);
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

const SPREAD = 1.5; // pixels: the standard deviation of the blur, 3 in the doubled picture
const AMOUNT = 1.2;
const WEIGHTS = bell(SPREAD);

/** Sharpened: 2.2 times the picture less 1.2 times the same blurred; the edge goes on as it is.
 * @param {Grey} picture @returns {Grey} */
export function sharpened({ data, width, height }) {
  const across = new Float32Array(data.length);
  for (let row = 0; row < data.length; row += width) blur(data, across, row, 1, width);
  const blurred = new Float32Array(data.length);
  for (let column = 0; column < width; column += 1) blur(across, blurred, column, width, height);
  const out = new Uint8ClampedArray(data.length);
  for (let at = 0; at < data.length; at += 1) out[at] = (1 + AMOUNT) * data[at] - AMOUNT * blurred[at];
  return { data: out, width, height };
}

/** The middle and one side of a Gauss curve, out to three deviations; all of it together is 1.
 * @param {number} deviation */
function bell(deviation) {
  const half = Array.from({ length: Math.ceil(3 * deviation) }, (_, at) => Math.exp(-(at * at) / (2 * deviation ** 2)));
  const whole = half.reduce((sum, weight, at) => sum + (at ? 2 : 1) * weight, 0);
  return half.map((weight) => weight / whole);
}

/** Blur along one row or column: `count` values from `start` on, `step` apart.
 * @param {ArrayLike<number>} from @param {Float32Array} to @param {number} start @param {number} step
 * @param {number} count */
function blur(from, to, start, step, count) {
  const last = start + (count - 1) * step;
  for (let at = start; at <= last; at += step) {
    let sum = WEIGHTS[0] * from[at];
    for (let far = 1; far < WEIGHTS.length; far += 1) {
      sum += WEIGHTS[far] * (from[Math.max(start, at - far * step)] + from[Math.min(last, at + far * step)]);
    }
    to[at] = sum;
  }
}
