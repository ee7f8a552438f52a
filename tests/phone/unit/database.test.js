// The phone may drop the connection to its storage while the app is in the background.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { shelf } from '../../../static/phone/database.js';

/** A storage whose first connections are dead.
 * @param {number} dead @param {string} name */
function storage(dead, name) {
  let opened = 0;
  const open = /** @type {any} */ (
    async () => {
      opened += 1;
      const number = opened;
      return {
        read() {
          if (number <= dead) throw Object.assign(new Error('gone'), { name });
          return `connection ${number}`;
        },
      };
    }
  );
  return { open, count: () => opened };
}

/** @param {any} db */
const work = async (db) => db.read();

for (const name of ['InvalidStateError', 'UnknownError', 'AbortError']) {
  test(`after ${name} the storage is opened afresh and the work done once more`, async () => {
    const { open, count } = storage(1, name);
    const use = shelf(() => {}, open);

    assert.equal(await use(work), 'connection 2');
    assert.equal(await use(work), 'connection 2');
    assert.equal(count(), 2);
  });
}

test('a storage that stays dead is reported, not tried for ever', async () => {
  const { open, count } = storage(99, 'InvalidStateError');
  const use = shelf(() => {}, open);

  await assert.rejects(use(work), { name: 'InvalidStateError' });
  assert.equal(count(), 2);
});

test('a full disk is no dead connection: the work is not done again', async () => {
  const { open, count } = storage(99, 'QuotaExceededError');
  const use = shelf(() => {}, open);

  await assert.rejects(use(work), { name: 'QuotaExceededError' });
  assert.equal(count(), 1);
});

test('an old tab that holds the old version is told of, until it is closed', async () => {
  /** @type {string[]} */
  const told = [];
  const open = /** @type {any} */ (
    async (/** @type {string} */ _name, /** @type {number} */ _version, /** @type {any} */ { blocked }) => {
      blocked();
      return { read: () => 'open' };
    }
  );

  await shelf((trouble) => told.push(trouble), open)(work);

  assert.deepEqual(told, ['blocked', '']);
});

test('a connection stands aside for a newer version, and the next work opens afresh', async () => {
  let closed = 0;
  /** @type {any} */
  let callbacks;
  let opened = 0;
  const open = /** @type {any} */ (
    async (/** @type {string} */ _name, /** @type {number} */ _version, /** @type {any} */ given) => {
      callbacks = given;
      opened += 1;
      return { read: () => opened };
    }
  );
  const use = shelf(() => {}, open);
  await use(work);

  callbacks.blocking(1, 2, { target: { close: () => (closed += 1) } });

  assert.equal(closed, 1);
  assert.equal(await use(work), 2);
});
