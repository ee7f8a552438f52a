// The exchange against a server that loses answers, is restored from a backup, and refuses phones.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { BATCH_BYTES, NoAnswer, Refused, Trouble, exchange, lots } from '../../../static/phone/exchange.js';

/** @typedef {import('../../../static/journal/fold.js').Entry} Entry */

/** Chances that come out the same each time: mulberry32.
 * @param {number} seed */
function dice(seed) {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** An entry of a phone.
 * @param {string} id @param {number} number @param {string} [text] @returns {Entry} */
function entry(id, number, text = '') {
  return {
    id, device: 'd', incarnation: 'i', number, hlc: [number, 0], at: number, kind: 'noted', v: 1,
    part: 'K7Q2MX', base: [], body: { text },
  };
}

/** A server in memory, with the rules of DEVELOPERS.md. */
class Server {
  generation = 'g0';
  /** @type {any[]} */
  rows = [];
  /** @type {any[]} */
  jobs = [];
  life = 0;
  page = 3;

  backup() {
    return structuredClone(this.rows);
  }

  /** @param {any[]} rows */
  restore(rows) {
    this.rows = rows;
    this.life += 1;
    this.generation = `g${this.life}`;
  }

  /** @param {any} sent */
  take({ entries }) {
    const results = entries.map((/** @type {Entry} */ one) => {
      let row = this.rows.find(({ entry: { id } }) => id === one.id);
      if (!row) this.rows.push((row = { rev: this.rows.length + 1, clock: one.hlc, entry: one }));
      return one.body.text === 'odd' ? { id: one.id, rev: row.rev, set_aside: 'it is odd' } : { id: one.id, rev: row.rev };
    });
    return { generation: this.generation, server_now: 1000, results };
  }

  /** @param {string} path */
  give(path) {
    if (path === '/packs') return { generation: this.generation, jobs: this.jobs.map(({ job, etag }) => ({ key: job.key, etag })) };
    if (path.startsWith('/pack/')) return this.jobs.find(({ job }) => path === `/pack/${job.key}`);
    const asked = new URL(path, 'http://shop.invalid').searchParams;
    const after = Number(asked.get('after'));
    if (asked.get('generation') !== this.generation || after > this.rows.length) {
      return { generation: this.generation, start_over: true };
    }
    const entries = this.rows.slice(after, after + this.page);
    const next = after + entries.length;
    return { generation: this.generation, server_now: 1000, entries, next, more: next < this.rows.length };
  }

  /** @returns {import('../../../static/phone/exchange.js').Door} */
  door() {
    return {
      get: async (path) => ({ status: 200, body: structuredClone(this.give(path)) }),
      post: async (_path, body) => ({ status: 200, body: structuredClone(this.take(/** @type {any} */ (body))) }),
    };
  }
}

/** A phone's store in memory: what store.js does, without a disk.
 * @param {string} generation */
function shelf(generation = 'g0') {
  /** @type {Map<string, any>} */
  const rows = new Map();
  let state = { generation, after: 0, answered: 0, offset: 0, refused: false };
  /** @type {any[]} */
  let jobs = [];
  /** @param {string} now */
  function startOver(now) {
    for (const row of rows.values()) Object.assign(row, { unsent: 1, rev: undefined });
    state = { ...state, generation: now, after: 0 };
  }
  return {
    rows,
    /** @param {Entry} made */
    press: (made) => rows.set(made.id, { entry: made, clock: made.hlc, unsent: 1 }),
    state: () => state,
    jobList: () => jobs,
    store: /** @type {import('../../../static/phone/exchange.js').Shelf} */ (
      /** @type {unknown} */ ({
        sync: async () => state,
        unsent: async () => [...rows.values()].filter(({ unsent }) => unsent).map((row) => row.entry),
        acknowledge: async (/** @type {string} */ now, /** @type {any[]} */ results) => {
          if (now !== state.generation) startOver(now);
          for (const { id, rev, set_aside: aside } of results) Object.assign(rows.get(id), { rev, aside, unsent: undefined });
        },
        take: async (/** @type {string} */ now, /** @type {any[]} */ page, /** @type {number} */ next) => {
          if (now !== state.generation) return;
          for (const row of page) rows.set(row.entry.id, { ...row, aside: rows.get(row.entry.id)?.aside });
          state = { ...state, after: next };
        },
        startOver: async (/** @type {string} */ now) => startOver(now),
        noteSync: async (/** @type {any} */ news) => {
          state = { ...state, ...news };
        },
        jobs: async () => jobs,
        standing: async () => ({ names: {} }),
        keepPack: async (/** @type {any} */ { job, etag }) => {
          jobs = [...jobs.filter(({ key }) => key !== job.key), { ...job, etag, listed: true }];
        },
        listJobs: async (/** @type {string[]} */ keys) => {
          jobs = jobs.map((job) => ({ ...job, listed: keys.includes(job.key) }));
        },
      })
    ),
  };
}

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

test('through losses, restores and repetitions no entry is lost and all end up the same', async () => {
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
      else server.restore(structuredClone(saved));
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
