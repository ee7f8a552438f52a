// Who reads: the browser's own reader only when it has proven itself, and never alone for long.
import assert from 'node:assert/strict';
import { test } from 'node:test';

import { decoder } from '../../static/scan/decoder.js';
import { NoDecoder } from '../../static/scan/trouble.js';

const VIEW = /** @type {any} */ ({ source: {}, width: 1280, height: 720 });
const FOREVER = new Promise(() => undefined);

/** A worker that reads nothing, and remembers which passes it was asked for. */
function worker({ loads = true } = {}) {
  /** @type {string[]} */
  const asked = [];
  return {
    asked,
    async warm() {
      if (!loads) throw new NoDecoder();
    },
    /** @param {unknown} _view @param {string} pass @returns {Promise<string | null>} */
    async read(_view, pass) {
      asked.push(pass);
      if (!loads) throw new NoDecoder();
      return null;
    },
  };
}

/** A browser's own reader that says `says`, one after the other, the last one for ever.
 * @param {{formats?: unknown, says?: unknown[]}} like */
function own({ formats = ['qr_code'], says = ['K7Q2MX'] }) {
  let asked = 0;
  class Own {
    static async getSupportedFormats() {
      if (formats instanceof Error) throw formats;
      return formats;
    }
    async detect() {
      const said = says[Math.min(asked, says.length - 1)];
      asked += 1;
      if (said instanceof Error) throw said;
      if (said instanceof Promise) return said;
      return said === null ? [] : [{ rawValue: said }];
    }
  }
  return /** @type {any} */ (Own);
}

/** @param {any} native @param {ReturnType<typeof worker>} [behind] */
function made(native, behind = worker()) {
  const clock = { now: 0 };
  const deciding = decoder({
    worker: behind,
    native,
    proof: async () => /** @type {any} */ ({}),
    now: () => clock.now,
  });
  return { deciding, clock, behind };
}

test('a browser reader that reads our own symbol is trusted', async () => {
  const { deciding } = made(own({}));

  await deciding.warm();

  assert.equal(deciding.by(), 'browser');
});

for (const [name, native] of /** @type {[string, any][]} */ ([
  ['is not there', undefined],
  ['knows no format', own({ formats: [] })],
  ['knows only others', own({ formats: ['ean_13'] })],
  ['cannot say its formats', own({ formats: new Error('no service') })],
  ['reads nothing', own({ says: [null] })],
  ['reads something else', own({ says: ['K7Q2MY'] })],
  ['throws', own({ says: [new Error('no service')] })],
])) {
  test(`a browser reader that ${name} is passed over`, async () => {
    const { deciding, behind } = made(native);

    await deciding.warm();
    await deciding.read(VIEW);

    assert.equal(deciding.by(), 'worker');
    assert.deepEqual(behind.asked, ['plain']);
  });
}

test('a browser reader that does not answer within a second and a half is passed over', async (t) => {
  t.mock.timers.enable({ apis: ['setTimeout'] });
  const { deciding } = made(own({ says: [FOREVER] }));

  const warmed = deciding.warm();
  await turns();
  t.mock.timers.tick(1_499);
  await turns();
  let over = false;
  void warmed.then(() => (over = true));
  await turns();
  assert.equal(over, false);
  t.mock.timers.tick(1);
  await warmed;

  assert.equal(deciding.by(), 'worker');
});

test('the proof is asked for once, however often the camera is started', async () => {
  let proofs = 0;
  const deciding = decoder({
    worker: worker(),
    native: own({}),
    proof: async () => /** @type {any} */ ((proofs += 1)),
  });

  await deciding.warm();
  await deciding.warm();

  assert.equal(proofs, 1);
});

test('the browser reader has three seconds alone, then both take turns', async () => {
  const { deciding, clock, behind } = made(own({ says: ['K7Q2MX', null] }));
  await deciding.warm();
  deciding.begin();

  clock.now = 2_999;
  await deciding.read(VIEW);
  await deciding.read(VIEW);
  assert.deepEqual(behind.asked, []);
  clock.now = 3_000;
  for (let times = 0; times < 8; times += 1) await deciding.read(VIEW);

  assert.deepEqual(behind.asked, ['sharp', 'plain', 'whole', 'plain']);
});

test('what the browser reader finds gives it three seconds more', async () => {
  const { deciding, clock, behind } = made(own({ says: ['K7Q2MX', 'K7Q2MX', null] }));
  await deciding.warm();
  deciding.begin();
  clock.now = 2_000;

  assert.equal(await deciding.read(VIEW), 'K7Q2MX');
  clock.now = 4_999;
  await deciding.read(VIEW);

  assert.deepEqual(behind.asked, []);
});

test('a browser reader that fails three times is let go', async () => {
  const { deciding, behind } = made(own({ says: ['K7Q2MX', new Error('service died')] }));
  await deciding.warm();
  deciding.begin();

  for (let times = 0; times < 3; times += 1) assert.equal(await deciding.read(VIEW), null);
  assert.deepEqual([deciding.by(), behind.asked], ['worker', []]);
  await deciding.read(VIEW);

  assert.deepEqual(behind.asked, ['whole']);
});

test('without a worker the browser reader reads on alone', async () => {
  const { deciding, clock } = made(own({ says: ['K7Q2MX', null, null, 'K7Q2MX'] }), worker({ loads: false }));
  await deciding.warm();
  deciding.begin();
  clock.now = 5_000;

  const texts = [];
  for (let times = 0; times < 5; times += 1) texts.push(await deciding.read(VIEW));

  assert.deepEqual(texts, [null, null, null, null, 'K7Q2MX']);
});

test('with neither, getting ready says so in a sentence', async () => {
  const { deciding } = made(undefined, worker({ loads: false }));

  await assert.rejects(deciding.warm(), /could not be loaded.*type the code/);
});

test('a photograph is looked at in every way before it is given up', async () => {
  const { deciding, behind } = made(undefined);

  assert.equal(await deciding.readPhotograph(VIEW), null);

  assert.deepEqual(behind.asked, ['whole', 'plain', 'sharp']);
});

/** Let promises settle. */
async function turns() {
  for (let times = 0; times < 10; times += 1) await Promise.resolve();
}
