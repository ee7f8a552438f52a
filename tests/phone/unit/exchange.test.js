// The exchange against a server that loses answers, is restored from a backup, and refuses phones.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { BATCH_BYTES, NoAnswer, Refused, Trouble, exchange, lots } from '../../../static/phone/exchange.js';
import { Server, dice, entry, shelf } from './simulated.js';

/** @param {ReturnType<typeof shelf>} phone @param {import('../../../static/phone/exchange.js').Door} door */
const run = (phone, door) => exchange({ store: phone.store, door, app: 'test', now: () => 5000 });

test('what one phone wrote, another has after both have asked; nothing is deleted by it', async () => {
  const server = new Server();
  const [one, two] = [shelf(), shelf()];
  one.press(entry('a', 1));

  await run(one, server.door());
  await run(two, server.door());

  assert.equal(two.rows.get('a').entry.id, 'a');
  assert.ok(one.rows.has('a'));
  assert.equal(one.rows.get('a').unsent, undefined);
  assert.equal(one.state().offset, 4000);
});

test('entries go in lots of at most 200 and 240 KiB, all of them, in order', () => {
  const many = Array.from({ length: 450 }, (_, number) => entry(`e${number}`, number));
  const large = Array.from({ length: 5 }, (_, number) => entry(`l${number}`, number, 'x'.repeat(100_000)));

  assert.deepEqual(lots(many).map((lot) => lot.length), [200, 200, 50]);
  assert.deepEqual(lots(large).map((lot) => lot.length), [2, 2, 1]);
  assert.deepEqual(lots([entry('one', 1, 'ü'.repeat(BATCH_BYTES))]).map((lot) => lot.length), [1]);
  assert.deepEqual(lots(many).flat(), many);
  assert.deepEqual(lots([]), []);
});

test('a lot that is still too large is halved until it fits', async () => {
  const server = new Server();
  const phone = shelf();
  for (let number = 1; number <= 9; number += 1) phone.press(entry(`e${number}`, number));
  const { get, post } = server.door();
  /** @type {number[]} */
  const taken = [];

  await run(phone, {
    get,
    post: async (path, body) => {
      const { length } = /** @type {any} */ (body).entries;
      if (length > 2) return { status: 413, body: { error: { says: 'too large' } } };
      taken.push(length);
      return post(path, body);
    },
  });

  assert.deepEqual(taken, [2, 2, 2, 1, 2]);
  assert.equal(server.rows.length, 9);
});

test('a lost answer costs a repetition, and the entry is there once', async () => {
  const server = new Server();
  const phone = shelf();
  phone.press(entry('a', 1));
  const { get, post } = server.door();
  const losing = { get, post: async (/** @type {string} */ path, /** @type {unknown} */ body) => (await post(path, body), Promise.reject(new NoAnswer('lost'))) };

  await assert.rejects(run(phone, losing), NoAnswer);
  assert.equal(phone.rows.get('a').unsent, 1);
  await run(phone, server.door());

  assert.equal(server.rows.length, 1);
  assert.equal(phone.rows.get('a').unsent, undefined);
});

test('a refused phone keeps everything', async () => {
  const phone = shelf();
  phone.press(entry('a', 1));
  const refusing = { get: async () => ({ status: 401, body: null }), post: async () => ({ status: 401, body: { error: { says: 'not joined' } } }) };

  await assert.rejects(run(phone, refusing), (err) => err instanceof Refused && err.message === 'not joined');
  assert.equal(phone.rows.get('a').unsent, 1);
});

test('an answer that is no answer is trouble with a sentence, and nothing is marked as sent', async () => {
  const phone = shelf();
  phone.press(entry('a', 1));
  const broken = { get: async () => ({ status: 200, body: null }), post: async () => ({ status: 502, body: null }) };

  await assert.rejects(run(phone, broken), (err) => err instanceof Trouble && err.message === 'The office answered 502.');
  assert.equal(phone.rows.get('a').unsent, 1);
});

test('what the server sets aside is known to be so, and does not stop its neighbours', async () => {
  const server = new Server();
  const phone = shelf();
  phone.press(entry('a', 1, 'odd'));
  phone.press(entry('b', 2));

  await run(phone, server.door());

  assert.equal(server.rows.length, 2);
  assert.equal(phone.rows.get('a').aside, 'it is odd');
  assert.equal(phone.rows.get('b').unsent, undefined);
});

test('after a restore phones offer everything they hold, other phones\' entries too', async () => {
  const server = new Server();
  const [one, two] = [shelf(), shelf()];
  const empty = server.backup();
  one.press(entry('a', 1));
  await run(one, server.door());
  await run(two, server.door());
  server.restore(empty);

  await run(two, server.door()); // the phone that wrote it is at the bottom of the river

  assert.deepEqual(server.rows.map((row) => row.entry.id), ['a']);
  assert.equal(two.state().generation, 'g1');
});

test('the server is told after each lot how many are left to send', async () => {
  const server = new Server();
  const phone = shelf();
  for (let number = 1; number <= 450; number += 1) phone.press(entry(`e${number}`, number));
  const { get, post } = server.door();
  /** @type {[string, number][]} */
  const told = [];

  await run(phone, {
    get: async (path) => {
      const waiting = new URL(path, 'http://shop.invalid').searchParams.get('waiting');
      if (waiting !== null) told.push(['GET', Number(waiting)]);
      return get(path);
    },
    post: async (path, body) => {
      told.push(['POST', /** @type {any} */ (body).waiting]);
      return post(path, body);
    },
  });

  assert.deepEqual(told.slice(0, 4), [['POST', 250], ['POST', 50], ['POST', 0], ['GET', 0]]);
});

test('an older copy that is put back without a word is noticed by a phone that sends first, and its work offered again', async () => {
  const server = new Server();
  const [one, two] = [shelf(), shelf()];
  one.press(entry('a', 1));
  await run(one, server.door());
  const copy = server.backup();
  one.press(entry('b', 2));
  await run(one, server.door());
  server.putBack(copy);
  two.press(entry('c', 1));
  await run(two, server.door()); // b's rev is c's now: the numbers alone show nothing any more

  one.press(entry('d', 3));
  await run(one, server.door());

  assert.deepEqual(server.rows.map((row) => row.entry.id).sort(), ['a', 'b', 'c', 'd']);
  assert.equal(server.life, 1);
  assert.ok([...one.rows.values()].every(({ unsent }) => !unsent));
  await run(two, server.door());
  assert.equal(two.state().generation, 'g1');
  assert.deepEqual([...two.rows.keys()].sort(), ['a', 'b', 'c', 'd']);
});

test('a server that starts over each time it is asked is told of, and not asked for ever', async () => {
  const phone = shelf();
  let asked = 0;
  const mad = {
    get: async () => ({ status: 200, body: { generation: `m${(asked += 1)}`, start_over: true } }),
    post: async () => ({ status: 500, body: null }),
  };

  await assert.rejects(run(phone, mad), Trouble);
  assert.ok(asked < 10);
});

test('a pack is fetched when it is new, and kept when the office no longer lists its job', async () => {
  const server = new Server();
  const phone = shelf();
  let fetched = 0;
  const { get, post } = server.door();
  const counting = { post, get: (/** @type {string} */ path) => ((fetched += Number(path.startsWith('/pack/'))), get(path)) };
  server.jobs = [{ job: { key: 'j' }, etag: '1' }];
  await run(phone, counting);
  await run(phone, counting);
  assert.equal(fetched, 1);

  server.jobs = [{ job: { key: 'j' }, etag: '2' }];
  await run(phone, counting);
  assert.equal(fetched, 2);

  server.jobs = [];
  await run(phone, counting);
  assert.deepEqual(phone.jobList(), [{ key: 'j', etag: '2', listed: false }]);
});

test('a pack that the phone has no room for keeps no other away, and is told of; so is one that the office cannot make', async () => {
  for (const spoil of ['full', 'broken']) {
    const server = new Server();
    const phone = shelf();
    phone.press(entry('a', 1));
    server.jobs = [{ job: { key: 'large' }, etag: '1' }, { job: { key: 'small' }, etag: '1' }];
    const { get, post } = server.door();
    const { keepPack } = phone.store;
    if (spoil === 'full') {
      phone.store.keepPack = async (pack) => {
        if (pack.job.key === 'large') throw Object.assign(new Error('no room'), { name: 'QuotaExceededError' });
        return keepPack(pack);
      };
    }
    const way = {
      post,
      get: async (/** @type {string} */ path) => (spoil === 'broken' && path === '/pack/large' ? { status: 500, body: null } : get(path)),
    };

    await assert.rejects(run(phone, way), spoil === 'full' ? { name: 'QuotaExceededError' } : Trouble);

    assert.deepEqual(phone.jobList().map(({ key }) => key), ['small'], spoil);
    assert.equal(server.rows.length, 1);
    assert.equal(phone.rows.get('a').unsent, undefined);
  }
});

test('through losses, restores (told of or not) and repetitions no entry is lost and all end up the same', async () => {
  for (let seed = 1; seed <= 120; seed += 1) {
    const chance = dice(seed);
    const server = new Server();
    const phones = Array.from({ length: 2 + Math.floor(chance() * 4) }, () => shelf());
    let saved = server.backup();
    const written = new Set();
    /** @returns {import('../../../static/phone/exchange.js').Door} */
    const shaky = () => {
      const { get, post } = server.door();
      /** @template T @param {() => Promise<T>} call */
      const perhaps = async (call) => {
        if (chance() < 0.15) throw new NoAnswer('not sent');
        const answer = await call();
        if (chance() < 0.15) throw new NoAnswer('answer lost');
        return answer;
      };
      return { get: (path) => perhaps(() => get(path)), post: (path, body) => perhaps(() => post(path, body)) };
    };

    for (let step = 0; step < 60; step += 1) {
      const phone = phones[Math.floor(chance() * phones.length)];
      const what = chance();
      if (what < 0.5) {
        const id = `s${seed}-${step}`;
        written.add(id);
        phone.press(entry(id, step));
      } else if (what < 0.9) {
        await run(phone, shaky()).catch((err) => assert.ok(err instanceof NoAnswer, String(err)));
      } else if (what < 0.95) saved = server.backup();
      else if (chance() < 0.5) server.restore(structuredClone(saved));
      else server.putBack(structuredClone(saved));
    }
    for (let round = 0; round < 3; round += 1) for (const phone of phones) await run(phone, server.door());

    const wanted = [...written].sort();
    assert.deepEqual(server.rows.map((row) => row.entry.id).sort(), wanted, `server, seed ${seed}`);
    for (const phone of phones) {
      assert.deepEqual([...phone.rows.keys()].sort(), wanted, `phone, seed ${seed}`);
      assert.ok([...phone.rows.values()].every(({ unsent }) => !unsent), `all sent, seed ${seed}`);
    }
  }
});
