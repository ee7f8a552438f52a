// The page's end of the worker: what is sent, what comes back, what happens when the worker dies.
import assert from 'node:assert/strict';
import { afterEach, beforeEach, test } from 'node:test';

import { reader } from '../../static/scan/reader.js';
import { NoDecoder } from '../../static/scan/trouble.js';

const globals = /** @type {any} */ (globalThis);
const VIEW = /** @type {any} */ ({ source: 'video', width: 640, height: 480 });

/** @param {(asked: any) => any} answer  what the worker posts for a message; undefined: nothing */
function hiring(answer) {
  /** @type {any[]} */
  const hired = [];
  const hire = () => {
    const worker = Object.assign(new EventTarget(), {
      /** @type {any[]} */
      asked: [],
      gone: false,
      /** @param {any} asked */
      postMessage(asked) {
        worker.asked.push(asked);
        const answered = answer(asked);
        if (answered === 'dies') queueMicrotask(() => worker.dispatchEvent(new Event('error', { cancelable: true })));
        else if (answered) {
          const data = { id: asked.id, ...answered };
          queueMicrotask(() => worker.dispatchEvent(new MessageEvent('message', { data })));
        }
      },
      terminate() {
        worker.gone = true;
      },
    });
    hired.push(worker);
    return /** @type {any} */ (worker);
  };
  return { hire, hired };
}

beforeEach(() => {
  globals.OffscreenCanvas = class {};
  globals.createImageBitmap = async (/** @type {unknown[]} */ ...piece) => ({ piece });
});
afterEach(() => {
  delete globals.OffscreenCanvas;
  delete globals.createImageBitmap;
  delete globals.document;
});

test('a piece of the picture goes to the worker, and its text comes back', async () => {
  const { hire, hired } = hiring(() => ({ text: 'K7Q2MX' }));

  assert.equal(await reader(hire).read(VIEW, 'plain'), 'K7Q2MX');

  const [{ pass, bitmap }] = hired[0].asked;
  assert.deepEqual([pass, bitmap.piece], ['plain', ['video', 80, 0, 480, 480]]);
});

test('a picture without a code is null', async () => {
  const { hire } = hiring(() => ({ text: null }));

  assert.equal(await reader(hire).read(VIEW, 'whole'), null);
});

test('answers find their questions, in whatever order they come', async () => {
  /** @type {any} */
  let first;
  const { hire, hired } = hiring((asked) => {
    if (!first) return void (first = asked);
    queueMicrotask(() => {
      hired[0].dispatchEvent(new MessageEvent('message', { data: { id: first.id, text: 'first' } }));
    });
    return { text: 'second' };
  });
  const reads = reader(hire);

  assert.deepEqual(await Promise.all([reads.read(VIEW, 'plain'), reads.read(VIEW, 'plain')]), ['first', 'second']);
});

test('a worker that cannot draw gets pixels that the page drew, from then on', async () => {
  const { hire, hired } = hiring((asked) => (asked.bitmap ? { trouble: 'bitmap' } : { text: 'K7Q2MX' }));
  const pen = { drawImage() {}, getImageData: () => ({ data: new Uint8ClampedArray(480 * 480 * 4) }) };
  globals.document = { createElement: () => ({ getContext: () => pen }) };
  const reads = reader(hire);

  assert.equal(await reads.read(VIEW, 'plain'), 'K7Q2MX');
  assert.equal(await reads.read(VIEW, 'plain'), 'K7Q2MX');

  assert.deepEqual(
    hired[0].asked.map((/** @type {any} */ asked) => Boolean(asked.bitmap)),
    [true, false, false],
  );
});

test('a decoder that cannot be loaded is said in a sentence', async () => {
  const { hire } = hiring(() => ({ trouble: 'decoder', says: 'Failed to fetch' }));

  await assert.rejects(reader(hire).warm(), (err) => err instanceof NoDecoder && err.cause === 'Failed to fetch');
});

test('a worker that dies fails what waits for it, and the next question hires another', async () => {
  let lives = 0;
  const { hire, hired } = hiring(() => ((lives += 1) > 1 ? { text: 'K7Q2MX' } : 'dies'));
  const reads = reader(hire);

  await assert.rejects(reads.read(VIEW, 'plain'), NoDecoder);
  assert.equal(await reads.read(VIEW, 'plain'), 'K7Q2MX');

  assert.deepEqual([hired.length, hired[0].gone], [2, true]);
});

test('a worker that does not answer for fifteen seconds is replaced', async (t) => {
  t.mock.timers.enable({ apis: ['setTimeout'] });
  const { hire, hired } = hiring(() => undefined);
  const reads = reader(hire);

  const asked = reads.warm();
  asked.catch(() => undefined);
  t.mock.timers.tick(15_000);

  await assert.rejects(asked, NoDecoder);
  assert.equal(hired[0].gone, true);
});
