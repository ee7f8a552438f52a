// A press is meant once: what is told twice at one place within a moment is told once.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { presses } from '../../../static/phone/presses.js';

/** A page with one button of 200 x 100 at (0, 600), and a clock that stands until it is told to go. */
function bench() {
  /** @type {Map<string, (event: any) => void>} */
  const heard = new Map();
  let time = 10_000;
  const page = { addEventListener: (/** @type {string} */ kind, /** @type {any} */ listener) => void heard.set(kind, listener) };
  const pressing = presses(/** @type {any} */ (page), () => time);
  const button = { getBoundingClientRect: () => ({ left: 0, right: 200, top: 600, bottom: 700 }) };
  return {
    pressing,
    /** @param {number} milliseconds */
    wait: (milliseconds) => (time += milliseconds),
    /** Whether a press comes through.
     * @param {{x?: number, y?: number, detail?: number}} [where] */
    click({ x = 100, y = 650, detail = 1 } = {}) {
      let through = true;
      heard.get('click')?.({
        target: { closest: () => button }, clientX: x, clientY: y, detail,
        stopImmediatePropagation: () => (through = false), preventDefault() {},
      }); // prettier-ignore
      return through;
    },
    /** Whether a key that is held comes through.
     * @param {boolean} repeat @param {string} key */
    key(repeat, key) {
      let through = true;
      heard.get('keydown')?.({ key, repeat, target: { closest: () => button }, preventDefault: () => (through = false) });
      return through;
    },
  };
}

for (const [after, through] of /** @type {const} */ ([[30, false], [350, false], [599, false], [600, true]])) {
  test(`a second press ${after} ms after a change ${through ? 'comes' : 'does not come'} through`, () => {
    const at = bench();
    at.click();
    at.pressing.changes();
    at.wait(after);

    assert.equal(at.click(), through);
  });
}

// The first press is at (100, 650); 72 pixels are 11 mm.
const ELSEWHERE = /** @type {const} */ ([
  ['72 pixels to the right', { x: 172 }, false],
  ['73 pixels to the right', { x: 173 }, true],
  ['50 pixels up and as many to the left', { x: 50, y: 600 }, false],
  ['52 pixels up and as many to the left', { x: 48, y: 598 }, true],
  ['by a key, on the same button', { x: 0, y: 0, detail: 0 }, false],
]);

for (const [name, where, through] of ELSEWHERE) {
  test(`a second press ${name}: it ${through ? 'comes' : 'does not come'} through`, () => {
    const at = bench();
    at.click();
    at.pressing.changes();

    assert.equal(at.click(where), through);
  });
}

test('while something is being kept its place is shut, and a moment longer, even if it fails', async () => {
  const at = bench();
  at.click();
  /** @type {(err: Error) => void} */
  let fail = () => {};
  const work = at.pressing.during(() => new Promise((_, reject) => (fail = reject)));

  at.wait(5_000);
  assert.equal(at.click(), false);
  fail(new Error('the disk is full'));
  await assert.rejects(work);
  at.wait(599);
  assert.equal(at.click(), false);
  at.wait(1);
  assert.equal(at.click(), true);
});

test('a change that nobody pressed for shuts nothing', () => {
  const at = bench();
  at.click();
  at.wait(5_000);
  at.pressing.changes();

  assert.equal(at.click(), true);
});

test('a key that is held presses once; other keys, and the next press, come through', () => {
  const at = bench();

  assert.deepEqual([at.key(false, 'Enter'), at.key(true, 'Enter'), at.key(true, 'Tab')], [true, false, true]);
});
