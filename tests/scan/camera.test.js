// Opening the camera: what is asked for, and which of the troubles it is when it is not to be had.
import assert from 'node:assert/strict';
import { afterEach, beforeEach, test } from 'node:test';

import { openCamera, rearLenses, setForLabels } from '../../static/scan/camera.js';
import { NoPicture } from '../../static/scan/trouble.js';

const globals = /** @type {any} */ (globalThis);

beforeEach(() => (globals.isSecureContext = true));
afterEach(() => delete globals.isSecureContext);

/** @param {(asked: any) => any} answer */
function devices(answer) {
  /** @type {any[]} */
  const asked = [];
  return /** @type {any} */ ({
    asked,
    /** @param {any} constraints */
    async getUserMedia({ video }) {
      asked.push(video);
      const given = answer(video);
      if (typeof given === 'string') throw new DOMException('', given);
      return given;
    },
  });
}

test('the rear camera is asked for, sharp enough for half-millimetre modules', async () => {
  const phone = devices(() => 'stream');
  phone.getUserMedia = async (/** @type {any} */ { video, audio }) => ({ video, audio });

  assert.deepEqual(await openCamera('', phone), {
    video: { facingMode: { ideal: 'environment' }, width: { ideal: 1920 }, height: { ideal: 1080 } },
    audio: false,
  });
});

for (const [error, kind] of [
  ['NotAllowedError', 'refused'],
  ['SecurityError', 'refused'],
  ['NotFoundError', 'no-camera'],
  ['NotReadableError', 'no-camera'],
  ['AbortError', 'no-camera'],
]) {
  test(`${error} is told as ${kind}, with a way on`, async () => {
    await assert.rejects(
      openCamera('', devices(() => error)),
      (err) => err instanceof NoPicture && err.kind === kind && /or type the code\.$/.test(err.message),
    );
  });
}

test('a page without https is told so, and nothing is asked', async () => {
  globals.isSecureContext = false;
  const phone = devices(() => 'stream');

  await assert.rejects(openCamera('', phone), (err) => err instanceof NoPicture && err.kind === 'insecure');

  assert.deepEqual(phone.asked, []);
});

test('a browser that knows no cameras has none', async () => {
  await assert.rejects(openCamera('', undefined), (err) => err instanceof NoPicture && err.kind === 'no-camera');
});

test('a chosen lens is asked for by its id, and one that is gone gives way to the rear camera', async () => {
  const phone = devices(({ deviceId }) => (deviceId ? 'OverconstrainedError' : { rear: true }));

  assert.deepEqual(await openCamera('wide', phone), { rear: true });

  assert.deepEqual(
    phone.asked.map((/** @type {any} */ { deviceId, facingMode }) => [deviceId?.exact, facingMode?.ideal]),
    [
      ['wide', undefined],
      [undefined, 'environment'],
    ],
  );
});

test('a person who refuses the chosen lens is not asked again', async () => {
  const phone = devices(() => 'NotAllowedError');

  await assert.rejects(openCamera('wide', phone), NoPicture);

  assert.equal(phone.asked.length, 1);
});

/** @type {[string, any, any[]][]} */
const SETTINGS = [
  ['nothing it cannot do', {}, []],
  ['focus that follows', { focusMode: ['manual', 'continuous'] }, [{ focusMode: 'continuous' }]],
  ['twice as near', { zoom: { min: 1, max: 8 } }, [{ zoom: 2 }]],
  ['no zoom that is too weak', { zoom: { min: 1, max: 1.5 } }, []],
  ['the least zoom that it has', { zoom: { min: 3, max: 9 } }, [{ zoom: 3 }]],
];
for (const [name, can, expected] of SETTINGS) {
  test(`a camera is set for labels: ${name}`, async () => {
    /** @type {any[]} */
    const wished = [];
    await setForLabels(
      /** @type {any} */ ({
        getCapabilities: () => can,
        applyConstraints: async (/** @type {any} */ { advanced }) => wished.push(...advanced),
      }),
    );

    assert.deepEqual(wished, expected);
  });
}

test('a camera that refuses a setting is used as it is', async () => {
  await setForLabels(
    /** @type {any} */ ({
      getCapabilities: () => ({ focusMode: ['continuous'] }),
      applyConstraints: () => Promise.reject(new DOMException('', 'OverconstrainedError')),
    }),
  );
});

/** @type {[string, [string, string, string][], string[]][]} */
const LENSES = [
  [
    'not the front camera, not the microphone',
    [
      ['videoinput', 'a', 'camera 0, facing back'],
      ['videoinput', 'b', 'camera 1, facing front'],
      ['videoinput', 'c', 'camera 2, facing back'],
      ['audioinput', 'd', 'microphone'],
    ],
    ['camera 0, facing back', 'camera 2, facing back'],
  ],
  ['the front camera where there is no other', [['videoinput', 'a', 'Front camera']], ['Front camera']],
  ['by number where they have no name', [['videoinput', 'a', ''], ['videoinput', 'b', '']], ['Lens 1', 'Lens 2']],
  ['none before the camera was allowed', [['videoinput', '', '']], []],
];
for (const [name, listed, expected] of LENSES) {
  test(`lenses to choose from: ${name}`, async () => {
    const phone = /** @type {any} */ ({
      enumerateDevices: async () => listed.map(([kind, deviceId, label]) => ({ kind, deviceId, label })),
    });

    assert.deepEqual(
      (await rearLenses(phone)).map((lens) => lens.name),
      expected,
    );
  });
}
