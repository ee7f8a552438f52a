// What does the phone hold?  The one place that reads and writes it.
//
// "Saved" means that the transaction is complete and the disk was asked to flush, not that a request succeeded.  Within
// a transaction nothing is awaited but the store's own requests: anything else would let it close half-way.

import { heads } from '../journal/fold.js';
import { observe } from '../journal/clock.js';
import { NEVER, readStanding } from './database.js';
import { enter, isKnown } from './entry.js';

/** @typedef {import('../journal/fold.js').Row} Row */
/** @typedef {import('../journal/fold.js').Entry} Entry */
/** @typedef {import('./entry.js').Draft} Draft */
/** @typedef {import('./entry.js').Writer} Writer */
/** @typedef {import('./database.js').Database} Database */
/** @typedef {import('./database.js').KeptRow} KeptRow */
/** @typedef {import('./database.js').KeptPart} KeptPart */
/** @typedef {import('./database.js').KeptStack} KeptStack */
/** @typedef {import('./database.js').KeptJob} KeptJob */
/** @typedef {'meta' | 'jobs' | 'stacks' | 'parts' | 'drawings' | 'gone' | 'rows' | 'left'} Room */

/** @typedef {import('./database.js').Phone} Phone */
/** @typedef {import('./database.js').SyncState} SyncState */
/** What POST /join answers.
 * @typedef {{device: string, incarnation: string, shop: string, shop_id: string, generation: string,
 *   server_now: number}} Joined */
/** What became of one entry that was sent.
 * @typedef {{id: string, rev: number, set_aside?: string}} Result */
/** @typedef {{kind: 'part', job: KeptJob, part: KeptPart, stack: KeptStack | undefined,
 *   drawing: import('./pack.js').Drawing | undefined, rows: Row[]}} PartSheet */
/** @typedef {{kind: 'stack', job: KeptJob, stack: KeptStack, parts: {part: KeptPart, rows: Row[]}[],
 *   drawing: import('./pack.js').Drawing | undefined}} StackSheet */

/** What comes with a job's pack, and goes with it. */
const OF_A_JOB = /** @type {const} */ (['stacks', 'parts', 'drawings', 'gone']);

/** @typedef {ReturnType<typeof makeStore>} Store */

/** @param {<T>(work: (db: Database) => Promise<T>) => Promise<T>} use  runs work on the database (database.js) */
export function makeStore(use) {
  /** @type {Set<() => void>} */
  const watchers = new Set();
  const otherTabs = typeof BroadcastChannel === 'function' ? new BroadcastChannel('facemark') : null;
  if (otherTabs) otherTabs.onmessage = () => watchers.forEach((watcher) => watcher());

  function changed() {
    watchers.forEach((watcher) => watcher());
    otherTabs?.postMessage('changed');
  }

  /** Run work in one transaction; resolves when it is complete, rejects with nothing changed.  Work awaits every
   * request: on a full disk each of them fails, and a failure that nobody awaits would be nobody's.
   * @template T @param {Room[]} names
   * @param {(tx: import('../vendor/idb/idb.js').IDBPTransaction<import('./database.js').Schema, Room[], 'readwrite'>)
   *   => Promise<T>} work
   * @returns {Promise<T>} */
  async function write(names, work) {
    const result = await use(async (db) => {
      const tx = db.transaction(names, 'readwrite', { durability: 'strict' });
      tx.done.catch(() => {}); // awaited below; a failing request must not leave it unhandled
      try {
        const made = await work(tx);
        await tx.done;
        return made;
      } catch (err) {
        try {
          tx.abort();
        } catch {
          // It has ended already.
        }
        throw tx.error ?? err;
      }
    });
    changed();
    return result;
  }

  /** @param {string} key */
  const meta = (key) => use((db) => db.get('meta', key));

  return {
    /** Be told when something has changed, here or in another tab.
     * @param {() => void} watcher */
    watch(watcher) {
      watchers.add(watcher);
    },

    /** @returns {Promise<Phone | undefined>} */
    phone: () => meta('phone'),

    /** @returns {Promise<SyncState>} */
    sync: async () => ({ ...NEVER, ...(await meta('sync')) }),

    /** @returns {Promise<import('./database.js').Standing>} */
    standing: () => readStanding(use),

    /** @param {'' | 'in' | 'mm'} unit */
    setUnit: (unit) => write(['meta'], (tx) => tx.objectStore('meta').put(unit, 'unit')),

    /** What the office calls the shop's phones, by device.
     * @returns {Promise<Record<string, string>>} */
    names: async () => (await meta('names')) ?? {},

    /** @param {Record<string, string>} names */
    keepNames: (names) => write(['meta'], (tx) => tx.objectStore('meta').put(names, 'names')),

    /** This phone has joined, or joined again: then what it had not sent goes on under its old name.  If it was in
     * another shop before, all that it holds of that one is set aside, and what it once held of this one comes back.
     * @param {Joined} joined @param {string} name */
    join: ({ device, incarnation, shop, shop_id: shopId, generation, server_now: theirs }, name) =>
      write(['meta', 'rows', 'left', 'jobs', ...OF_A_JOB], async (tx) => {
        const kept = tx.objectStore('meta');
        /** @type {Phone | undefined} */
        const before = await kept.get('phone');
        const sync = await syncOf(tx);
        const was = before && (before.shopId ?? sync.generation); // what an older app kept, and such a shop is called
        const moved = was !== undefined && was !== shopId;
        const hlc = moved ? await moveHouse(tx, was, before?.shop ?? '', shopId) : (before?.hlc ?? [0, 0]);
        const same = before?.device === device && before.incarnation === incarnation;
        await kept.put({ device, incarnation, shop, shopId, name, number: same ? before.number : 0, hlc }, 'phone');
        if (moved || sync.generation !== generation) await startOver(tx, generation);
        await kept.put({ ...(await syncOf(tx)), offset: Date.now() - theirs, refused: false }, 'sync');
      }),

    /** Keep what has been pressed: each draft becomes an entry that names the heads of its register.  All or none.
     * @param {Draft[]} drafts */
    record: (drafts) =>
      write(['meta', 'rows'], async (tx) => {
        const rows = tx.objectStore('rows');
        /** @type {Phone | undefined} */
        const phone = await tx.objectStore('meta').get('phone');
        if (!phone) throw new Error('this phone has not joined a shop');
        let writer = phone;
        const now = Date.now() - (await syncOf(tx)).offset;
        for (const draft of drafts) {
          if (await rows.get(draft.id)) continue; // the work is done again after a lost connection
          const known = await rows.index('part').getAll(draft.part);
          const base = 'step' in draft.body ? heads(known, draft.body.step) : [];
          const made = enter(draft, writer, base, now);
          writer = { ...phone, ...made.writer };
          const { entry } = made;
          await rows.put({ id: entry.id, part: entry.part, clock: entry.hlc, entry, unsent: 1 });
        }
        await tx.objectStore('meta').put(writer, 'phone');
      }),

    /** What is to be sent, in the order it was written.
     * @returns {Promise<Entry[]>} */
    unsent: async () => {
      const rows = await use((db) => db.getAllFromIndex('rows', 'unsent'));
      return rows.map(({ entry }) => entry).sort((a, b) => a.hlc[0] - b.hlc[0] || a.hlc[1] - b.hlc[1] || a.number - b.number);
    },

    /** The server has these, safely.  They stay here, too.  In a new generation everything else is offered again.
     * @param {string} generation @param {Result[]} results */
    acknowledge: (generation, results) =>
      write(['meta', 'rows'], async (tx) => {
        const rows = tx.objectStore('rows');
        if ((await syncOf(tx)).generation !== generation) await startOver(tx, generation);
        let { seen } = await syncOf(tx);
        for (const { id, rev, set_aside: aside } of results) {
          const row = await rows.get(id);
          if (!row) continue;
          const { unsent: _sent, aside: _before, ...kept } = row;
          await rows.put({ ...kept, rev, ...(aside ? { aside } : {}) });
          if (!aside) seen = further(seen, rev, id);
        }
        await tx.objectStore('meta').put({ ...(await syncOf(tx)), seen }, 'sync');
      }),

    /** A page of the server's rows, and the cursor after it: in one transaction, so that neither is without the other.
     * @param {string} generation @param {Row[]} page @param {number} next */
    take: (generation, page, next) =>
      write(['meta', 'rows'], async (tx) => {
        const sync = await syncOf(tx);
        if (sync.generation !== generation) return;
        const rows = tx.objectStore('rows');
        /** @type {Phone | undefined} */
        const phone = await tx.objectStore('meta').get('phone');
        let hlc = phone?.hlc ?? [0, 0];
        let { seen } = sync;
        for (const row of page) {
          const { entry } = row;
          const before = await rows.get(entry.id);
          hlc = observe(hlc, row.clock);
          if (row.rev) seen = further(seen, row.rev, entry.id);
          await rows.put({
            ...row,
            id: entry.id,
            part: entry.part,
            ...(isKnown(entry) ? {} : { unread: 1 }),
            ...(before?.aside ? { aside: before.aside } : {}),
          });
        }
        if (phone) await tx.objectStore('meta').put({ ...phone, hlc }, 'phone');
        await tx.objectStore('meta').put({ ...sync, after: next, seen }, 'sync');
      }),

    /** The server is another one than before (restored from a backup): offer it everything, and ask for everything.
     * @param {string} generation */
    startOver: (generation) => write(['meta', 'rows'], (tx) => startOver(tx, generation)),

    /** Note how the last exchange went.
     * @param {Partial<SyncState>} news */
    noteSync: (news) =>
      write(['meta'], async (tx) => {
        await tx.objectStore('meta').put({ ...(await syncOf(tx)), ...news }, 'sync');
      }),

    /** @returns {Promise<KeptJob[]>} */
    jobs: () => use((db) => db.getAll('jobs')),

    /** A job's pack replaces the one held before.
     * @param {import('./pack.js').Pack} pack */
    keepPack: ({ etag, job, stacks, parts, drawings, gone = [] }) =>
      write(['jobs', ...OF_A_JOB], async (tx) => {
        const own = { job: job.key };
        const before = await Promise.all(OF_A_JOB.map((name) => tx.objectStore(name).index('job').getAllKeys(job.key)));
        await Promise.all([
          ...OF_A_JOB.flatMap((name, at) => before[at].map((key) => tx.objectStore(name).delete(/** @type {any} */ (key)))),
          tx.objectStore('jobs').put({ ...job, etag, listed: true }),
          ...stacks.map((stack) => tx.objectStore('stacks').put({ ...stack, ...own })),
          ...parts.map((part) => tx.objectStore('parts').put({ ...part, ...own })),
          ...Object.entries(drawings).map(([name, drawing]) =>
            tx.objectStore('drawings').put({ in: drawing.in, mm: drawing.mm, ...own, name }),
          ),
          ...gone.map((one) => tx.objectStore('gone').put({ ...one, ...own })),
        ]);
      }),

    /** Say which jobs the office still lists.  The others are kept: their parts may be on the bench.
     * @param {string[]} keys */
    listJobs: (keys) =>
      write(['jobs'], async (tx) => {
        for (const job of await tx.objectStore('jobs').getAll()) {
          await tx.objectStore('jobs').put({ ...job, listed: keys.includes(job.key) });
        }
      }),

    /** Everything on the sheet of one code, or null if no pack has it.  Reads that part only, however large the job.
     * @param {string} code @returns {Promise<PartSheet | StackSheet | null>} */
    sheet: (code) =>
      use(async (db) => {
        const tx = db.transaction(['jobs', 'stacks', 'parts', 'drawings', 'rows']);
        const rowsOf = tx.objectStore('rows').index('part');
        const parts = tx.objectStore('parts');
        const stacks = tx.objectStore('stacks');
        // All that is known to be needed is asked for at once: each wait is a turn of the browser's wheels.
        const [part, own, rows] = await Promise.all([parts.get(code), stacks.get(code), rowsOf.getAll(code)]);
        const owner = part ?? own;
        if (!owner) return null;
        const jobs = tx.objectStore('jobs');
        if (part) {
          const [job, stack, drawing] = await Promise.all([
            jobs.get(part.job),
            stacks.get(part.stack),
            tx.objectStore('drawings').get([part.job, part.drawing]),
          ]);
          return job ? { kind: 'part', job, part, stack, drawing, rows } : null;
        }
        const stack = /** @type {KeptStack} */ (own);
        const [job, drawing] = await Promise.all([
          jobs.get(stack.job),
          tx.objectStore('drawings').get([stack.job, stack.drawing ?? '']),
        ]);
        if (!job) return null;
        const found = await Promise.all(
          stack.parts.map(async (one) => ({
            part: await parts.get(one),
            rows: await rowsOf.getAll(one),
          })),
        );
        const there = /** @type {StackSheet['parts']} */ (found.filter((one) => one.part));
        return { kind: 'stack', job, stack, drawing, parts: there };
      }),

    /** One drawing of a job, by its name.
     * @param {string} job @param {string} name */
    drawing: (job, name) => use((db) => db.get('drawings', [job, name])),

    /** What a label belonged to that no job has any more; undefined if it never was one of this shop's.
     * @param {string} code @returns {Promise<{gone: import('./database.js').KeptGone, job: KeptJob | undefined} | undefined>} */
    gone: (code) =>
      use(async (db) => {
        const gone = await db.get('gone', code);
        return gone && { gone, job: await db.get('jobs', gone.job) };
      }),

    /** Jobs with their stacks, in order.
     * @returns {Promise<{job: KeptJob, stacks: KeptStack[]}[]>} */
    stacks: () =>
      use(async (db) => {
        const [jobs, stacks] = await Promise.all([db.getAll('jobs'), db.getAll('stacks')]);
        return jobs.map((job) => ({
          job,
          stacks: stacks.filter((stack) => stack.job === job.key).sort((a, b) => a.number - b.number),
        }));
      }),

    /** Parts and stacks whose code begins so, at most `limit` of each.
     * @param {string} start @param {number} limit @returns {Promise<(KeptPart | KeptStack)[]>} */
    beginningWith: (start, limit) =>
      use(async (db) => {
        const range = IDBKeyRange.bound(start, `${start}\uffff`);
        const found = await Promise.all([db.getAll('parts', range, limit), db.getAll('stacks', range, limit)]);
        return found.flat();
      }),

    /** What the server has set aside, how many entries need a newer app, and what was not sent to shops that this phone
     * was in before.
     * @returns {Promise<{aside: KeptRow[], unread: number, left: import('./database.js').LeftRow[]}>} */
    leftovers: () =>
      use(async (db) => {
        const [aside, unread, left] = await Promise.all([
          db.getAllFromIndex('rows', 'aside'),
          db.countFromIndex('rows', 'unread'),
          db.getAllFromIndex('left', 'unsent'),
        ]);
        return { aside, unread, left };
      }),
  };
}

/** @typedef {{objectStore(name: 'meta'): any}} MetaTx */

/** @param {MetaTx} tx @returns {Promise<SyncState>} */
async function syncOf(tx) {
  return { ...NEVER, ...(await tx.objectStore('meta').get('sync')) };
}

/** Everything held is offered again, other phones' entries too: they may be the only copy left.
 * @param {any} tx @param {string} generation */
async function startOver(tx, generation) {
  const rows = tx.objectStore('rows');
  /** @type {KeptRow[]} */
  const all = await rows.getAll();
  await Promise.all(all.map(({ rev: _rev, ...row }) => rows.put({ ...row, unsent: 1 })));
  await tx.objectStore('meta').put({ ...(await syncOf(tx)), generation, after: 0, seen: '' }, 'sync');
}

/** From one shop to another: jobs and all that goes with them are the office's and come again; what was written is set
 * aside, or comes back from there.  Resolves to the last moment that the phone has seen in the shop it comes to.
 * @param {any} tx @param {string} from @param {string} called  the name of the shop that is left @param {string} to
 * @returns {Promise<import('../journal/clock.js').Stamp>} */
async function moveHouse(tx, from, called, to) {
  const rows = tx.objectStore('rows');
  const left = tx.objectStore('left');
  /** @type {[KeptRow[], import('./database.js').LeftRow[]]} */
  const [own, back] = await Promise.all([rows.getAll(), left.index('shop').getAll(to)]);
  await Promise.all([
    ...['jobs', ...OF_A_JOB].map((name) => tx.objectStore(name).clear()),
    tx.objectStore('meta').delete('names'),
    rows.clear(),
    ...back.map(({ id }) => left.delete(id)),
    ...own.map((row) => left.put({ ...row, shop: from, of: called })),
    ...back.map(({ shop: _shop, of: _of, ...row }) => rows.put(row)),
  ]);
  return back.reduce((hlc, { clock }) => observe(hlc, clock), /** @type {import('../journal/clock.js').Stamp} */ ([0, 0]));
}

/** The later of two entries that are known with their revs.
 * @param {string} seen  "REV:ID" or '' @param {number} rev @param {string} id */
function further(seen, rev, id) {
  return rev > (parseInt(seen, 10) || 0) ? `${rev}:${id}` : seen;
}
