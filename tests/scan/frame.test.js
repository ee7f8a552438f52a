// Pieces of the picture, grey, doubling and sharpening: values worked out by hand.
import assert from 'node:assert/strict';
import { test } from 'node:test';

import { doubled, grey, lightness, passOf, pieceOf, rgba, sharpened } from '../../static/scan/frame.js';

/** @param {number} width @param {number[]} values @returns {import('../../static/scan/frame.js').Grey} */
const picture = (width, values) => ({
  data: Uint8ClampedArray.from(values),
  width,
  height: values.length / width,
});

test('the plain and the sharpened middle take turns, and every fourth look is at the whole picture', () => {
  assert.deepEqual([1, 2, 3, 4, 5, 6, 7, 8].map(passOf), [
    ...['plain', 'sharp', 'plain', 'whole'],
    ...['plain', 'sharp', 'plain', 'whole'],
  ]);
});

// [name, pass, picture, left, top, width, height, read as]
/** @type {[string, import('../../static/scan/frame.js').Pass, [number, number], number[]][]} */
const PIECES = [
  ['65 in a hundred of the short side', 'plain', [1920, 1080], [609, 189, 702, 702, 702, 702]],
  ['the middle half of that, to be sharpened', 'sharp', [1920, 1080], [784, 364, 351, 351, 351, 351]],
  ['a phone held upright', 'plain', [1080, 1920], [189, 609, 702, 702, 702, 702]],
  ['at least 700 pixels of a smaller picture', 'plain', [1280, 720], [290, 10, 700, 700, 700, 700]],
  ['to the edges of a small picture', 'plain', [640, 480], [80, 0, 480, 480, 480, 480]],
  ['the whole of a large picture at 1280', 'whole', [1920, 1080], [0, 0, 1920, 1080, 1280, 720]],
  ['the whole of an upright one at 1280', 'whole', [1080, 1920], [0, 0, 1080, 1920, 720, 1280]],
  ['a small picture is not enlarged', 'whole', [640, 480], [0, 0, 640, 480, 640, 480]],
];
for (const [name, pass, [width, height], expected] of PIECES) {
  test(`${pass}: ${name}`, () => {
    const { x, y, width: wide, height: high, toWidth, toHeight } = pieceOf(pass, width, height);
    assert.deepEqual([x, y, wide, high, toWidth, toHeight], expected);
  });
}

test('grey weighs red, green and blue as the eye does, and white stays white', () => {
  const colours = [255, 255, 255, 255, 255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 255, 0, 0, 0, 255];

  // 0.299, 0.587 and 0.114 of 255: 76.2, 149.7, 29.1.
  assert.deepEqual([...grey(colours, 5, 1).data], [255, 76, 150, 29, 0]);
});

test('grey goes back to opaque pixels', () => {
  assert.deepEqual([...rgba(picture(2, [7, 200])).data], [7, 7, 7, 255, 200, 200, 200, 255]);
});

test('lightness is the mean, and nothing is dark', () => {
  assert.equal(lightness(picture(2, [10, 20, 30, 60])), 30);
  assert.equal(lightness(picture(1, [])), 0);
});

test('a doubled row takes three quarters of the nearest pixel and one of the next', () => {
  const two = doubled(picture(2, [0, 100]));

  assert.deepEqual([two.width, two.height], [4, 2]);
  assert.deepEqual([...two.data], [0, 25, 75, 100, 0, 25, 75, 100]);
});

test('a doubled corner takes nine sixteenths of itself', () => {
  // Row 0: 160; row 1: 0.  Next to the inner corner: (9 * 160 + 3 * 160 + 3 * 0 + 0) / 16 = 120, then 40.
  const two = doubled(picture(2, [160, 160, 0, 0]));

  assert.deepEqual([...two.data], [160, 160, 160, 160, 120, 120, 120, 120, 40, 40, 40, 40, 0, 0, 0, 0]);
});

test('an even picture is not changed by sharpening', () => {
  const even = picture(12, Array(12 * 9).fill(93));

  assert.deepEqual(sharpened(even).data, even.data);
});

test('a speck is lifted by 1.2 times what the blur takes from it', () => {
  const dark = Array(21 * 21).fill(0);
  dark[10 * 21 + 10] = 100;

  const { data } = sharpened(picture(21, dark));

  // The middle of a Gauss curve of 1.5 pixels, cut at 4, is 0.2666 in each direction: 220 - 120 * 0.2666^2 = 211.5.
  assert.equal(data[10 * 21 + 10], 211);
  assert.equal(data[10 * 21 + 11], 0, 'and what lies beside it is not made negative');
});

test('an edge is made steeper on both sides', () => {
  const row = Array.from({ length: 20 }, (_, x) => (x < 10 ? 100 : 150));

  const { data } = sharpened(picture(20, [...row, ...row, ...row]));

  // The blur at the last dark pixel is 100 + 50 * 0.3667 (all weights beyond it: (1 - 0.2666) / 2) = 118.3, so it
  // becomes 220 - 1.2 * 118.3 = 78.0; the first light one by symmetry 250 - 78 = 172.
  assert.deepEqual([data[29], data[30]], [78, 172]);
  assert.deepEqual([data[20], data[39]], [100, 150]);
});
