// When the phone talks: soon after a press whatever goes on, not for ever later after failures, and one tab at a time.

import assert from 'node:assert/strict';
import { afterEach, beforeEach, mock, test } from 'node:test';

import { NoAnswer } from '../../../static/phone/exchange.js';
import { patience, synchroniser } from '../../../static/phone/sync.js';
import { Server, entry, shelf } from './simulated.js';

const page = { visibilityState: 'visible', addEventListener() {} };
/** @type {{held: boolean, request(name: string, how: unknown, work: (lock: unknown) => unknown): Promise<unknown>}} */
const locks = {
  held: false,
  async request(_name, _how, work) {
    return work(this.held ? null : {});
  },
};

beforeEach(() => {
  mock.timers.enable({ apis: ['setTimeout'] });
  Object.assign(globalThis, { document: page, addEventListener() {} });
  Object.defineProperty(globalThis, 'navigator', { value: { locks }, configurable: true });
  page.visibilityState = 'visible';
  locks.held = false;
});
afterEach(() => mock.timers.reset());

/** Let all that is ready run on. */
async function settle() {
  for (let turn = 0; turn < 50; turn += 1) await new Promise((done) => setImmediate(done));
}

/** Let so many milliseconds pass.
 * @param {number} ms */
async function pass(ms) {
  mock.timers.tick(ms);
  await settle();
}

/** A phone whose exchanges can be held up, or all fail.
 * @param {{fails?: boolean}} [how] */
async function wired({ fails = false } = {}) {
  const server = new Server();
  const phone = shelf();
  /** @type {(() => void)[]} */
  const held = [];
  const way = { holds: false, fails, asked: 0 };
  const { get, post } = server.door();
  const door = {
    post,
    async get(/** @type {string} */ path) {
      if (path.startsWith('/sync')) way.asked += 1;
      if (way.holds) await new Promise((go) => held.push(() => go(undefined)));
      if (way.fails) throw new NoAnswer('No answer from the office.');
      return get(path);
    },
  };
  if (fails) door.post = async () => ((way.asked += 1), Promise.reject(new NoAnswer('No answer from the office.')));
  const store = /** @type {import('../../../static/phone/store.js').Store} */ (phone.store);
  const sync = synchroniser({ store, door, app: () => 'test', onTalk() {} });
  await sync.start();
  await settle();
  const release = async () => {
    way.holds = false;
    for (const go of held.splice(0)) go();
    await settle();
  };
  return { server, phone, sync, way, release };
}

test('a press during an exchange goes two seconds after it, not with the next half minute', async () => {
  const { server, phone, sync, way, release } = await wired();
  way.holds = true;
  await pass(0);
  phone.press(entry('a', 1));
  sync.soon();
  await pass(1_000);
  assert.equal(server.rows.length, 0);

  await release();
  await pass(2_000);

  assert.equal(server.rows.length, 1);
});

for (const [what, count, visible, most] of /** @type {const} */ ([
  ['something is unsent and the screen is on', 1, 'visible', 60_000],
  ['nothing is unsent', 0, 'visible', 300_000],
  ['the app is in the background', 1, 'hidden', 300_000],
])) {
  test(`after many failures the phone tries again within ${most / 1000} seconds while ${what}`, async () => {
    const { phone, way } = await wired({ fails: true });
    page.visibilityState = visible;
    if (count) phone.press(entry('a', 1));
    await pass(0);
    for (let turn = 0; turn < 8; turn += 1) await pass(300_000);
    const before = way.asked;

    await pass(most / 2 - 1);
    assert.equal(way.asked, before, 'not before half of it');
    await pass(most / 2 + 1);

    assert.equal(way.asked, before + 1);
  });
}

test('waiting is cut short, but still never in step with others', () => {
  assert.equal(patience(30, 1, 60_000), 60_000);
  assert.equal(patience(30, 0, 60_000), 30_000);
});

test('"Send now" while another tab is sending says so, and looks again soon', async () => {
  const { server, phone, sync } = await wired();
  await pass(0);
  phone.press(entry('a', 1));
  locks.held = true;

  await sync.now();

  assert.equal(sync.talk.trouble, 'Another tab of this app is sending.');
  locks.held = false;
  await pass(2_000);
  assert.equal(sync.talk.trouble, '');
  assert.equal(server.rows.length, 1);
});

test('a full phone is told in one sentence, and what was pressed has been sent', async () => {
  const { server, phone, sync } = await wired();
  server.jobs = [{ job: { key: 'j' }, etag: '1' }];
  phone.store.keepPack = async () => {
    throw Object.assign(new Error('Encountered full disk while committing transaction.'), { name: 'QuotaExceededError' });
  };
  phone.press(entry('a', 1));

  await sync.now();

  assert.match(sync.talk.trouble, /^This phone is full: .* What was pressed here is safe\./);
  assert.equal(server.rows.length, 1);
});

test('a storage that does not answer once is asked again: the phone does not fall silent for good', async () => {
  const { server, phone, sync } = await wired();
  const { phone: whose } = phone.store;
  phone.store.phone = async () => Promise.reject(new Error('the storage does not answer'));
  await pass(0);
  assert.equal(sync.talk.trouble, 'the storage does not answer');
  phone.store.phone = whose;
  phone.press(entry('a', 1));

  await pass(60_000);

  assert.equal(server.rows.length, 1);
});
