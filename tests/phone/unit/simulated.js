// A server and phones in memory, for tests of what they say to each other.

/** @typedef {import('../../../static/journal/fold.js').Entry} Entry */

/** Chances that come out the same each time: mulberry32.
 * @param {number} seed */
export function dice(seed) {
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
export function entry(id, number, text = '') {
  return {
    id, device: 'd', incarnation: 'i', number, hlc: [number, 0], at: number, kind: 'noted', v: 1,
    part: 'K7Q2MX', base: [], body: { text },
  };
}

/** A server in memory, with the rules of DEVELOPERS.md. */
export class Server {
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

  /** An older copy is put back, and nobody says so.
   * @param {any[]} rows */
  putBack(rows) {
    this.rows = rows;
  }

  /** Whoever knows what is not here shows that a life is over.
   * @param {unknown} generation @param {string} seen  "REV:ID" or '' */
  compare(generation, seen) {
    const [rev, id] = seen.split(':');
    if (seen && generation === this.generation && this.rows[Number(rev) - 1]?.entry.id !== id) this.restore(this.rows);
  }

  /** @param {any} sent */
  take({ entries, generation, seen }) {
    this.compare(generation, seen);
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
    this.compare(asked.get('generation'), asked.get('seen') ?? '');
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
export function shelf(generation = 'g0') {
  /** @type {Map<string, any>} */
  const rows = new Map();
  let state = { generation, after: 0, seen: '', answered: 0, offset: 0, refused: false };
  /** @type {any[]} */
  let jobs = [];
  /** @param {string} now */
  function startOver(now) {
    for (const row of rows.values()) Object.assign(row, { unsent: 1, rev: undefined });
    state = { ...state, generation: now, after: 0, seen: '' };
  }
  /** @param {number} rev @param {string} id */
  function know(rev, id) {
    if (rev > (parseInt(state.seen, 10) || 0)) state = { ...state, seen: `${rev}:${id}` };
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
          for (const { id, rev, set_aside: aside } of results) {
            Object.assign(rows.get(id), { rev, aside, unsent: undefined });
            if (!aside) know(rev, id);
          }
        },
        take: async (/** @type {string} */ now, /** @type {any[]} */ page, /** @type {number} */ next) => {
          if (now !== state.generation) return;
          for (const row of page) {
            rows.set(row.entry.id, { ...row, aside: rows.get(row.entry.id)?.aside });
            know(row.rev, row.entry.id);
          }
          state = { ...state, after: next };
        },
        startOver: async (/** @type {string} */ now) => startOver(now),
        noteSync: async (/** @type {any} */ news) => {
          state = { ...state, ...news };
        },
        jobs: async () => jobs,
        phone: async () => ({ device: 'd' }),
        standing: async () => ({ names: {}, count: [...rows.values()].filter(({ unsent }) => unsent).length }),
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
