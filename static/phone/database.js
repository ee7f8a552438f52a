// Where does the phone keep things?  IndexedDB, opened with care: only store.js uses this.
//
// An upgrade only ever adds: a new version of the app must find every unsent entry of the old one.

import { openDB } from '../vendor/idb/idb.js';

const NAME = 'facemark';
const VERSION = 2;

/** A row as it is kept.  `unsent` and `unread` are 1 or not there at all, so that their indexes hold only what counts.
 * @typedef {import('../journal/fold.js').Row & {id: string, part: string, unsent?: 1, unread?: 1, aside?: string}} KeptRow */
/** @typedef {import('./pack.js').Part & {job: string}} KeptPart */
/** @typedef {import('./pack.js').Stack & {job: string}} KeptStack */
/** @typedef {import('./pack.js').Job & {etag: string, listed: boolean}} KeptJob */

/** A row of a shop that this phone was in before: kept, but neither shown nor sent.
 * @typedef {KeptRow & {shop: string, of: string}} LeftRow */
/** A label that no part or stack of its job has any more, since that revision.
 * @typedef {import('./pack.js').Gone & {job: string}} KeptGone */

/** @typedef {{
 *   meta: {key: string, value: any},
 *   jobs: {key: string, value: KeptJob},
 *   stacks: {key: string, value: KeptStack, indexes: {job: string}},
 *   parts: {key: string, value: KeptPart, indexes: {job: string}},
 *   drawings: {key: [string, string], value: import('./pack.js').Drawing & {job: string, name: string},
 *     indexes: {job: string}},
 *   rows: {key: string, value: KeptRow, indexes: {part: string, unsent: number, unread: number, aside: string}},
 *   gone: {key: string, value: KeptGone, indexes: {job: string}},
 *   left: {key: string, value: LeftRow, indexes: {shop: string, unsent: number}},
 * }} Schema */
/** @typedef {import('../vendor/idb/idb.js').IDBPDatabase<Schema>} Database */

/** This phone in its shop: the shop's name, and the id that it keeps whatever is restored.
 * @typedef {import('./entry.js').Writer & {shop: string, shopId?: string, name: string}} Phone */
/** Where the exchange with the server stands.  `after`: the cursor; `seen`: the last entry whose rev is known, "REV:ID";
 * `answered`: when the server last answered, by this phone's clock; `offset`: how far this phone's clock is ahead of the
 * server's; `refused`: the phone is no longer joined.
 * @typedef {{generation: string, after: number, seen: string, answered: number, offset: number, refused: boolean}} SyncState */
/** How the phone stands: its unit ('' is what the job says), what the office calls the shop's phones by device, and how
 * much is to be sent.
 * @typedef {{phone: Phone | undefined, sync: SyncState, unit: '' | 'in' | 'mm', names: Record<string, string>,
 *   count: number}} Standing */

/** @type {SyncState} */
export const NEVER = { generation: '', after: 0, seen: '', answered: 0, offset: 0, refused: false };

/** What every screen needs to know, read at once.
 * @param {<T>(work: (db: Database) => Promise<T>) => Promise<T>} use @returns {Promise<Standing>} */
export function readStanding(use) {
  return use(async (db) => {
    const tx = db.transaction(['meta', 'rows']);
    const kept = tx.objectStore('meta');
    // Three requests, not one for each word: at a cold start every answer costs a turn of the browser's wheels.
    const [words, values, count] = await Promise.all([
      kept.getAllKeys(),
      kept.getAll(),
      tx.objectStore('rows').index('unsent').count(),
    ]);
    const { phone, sync, unit, names } = Object.fromEntries(words.map((word, at) => [word, values[at]]));
    return { phone, sync: { ...NEVER, ...sync }, unit: unit ?? '', names: names ?? {}, count };
  });
}

/** Give a function that runs work on the database, opening it when needed.
 *
 * The phone may have dropped the connection while the app was in the background; the first sign is an error.  Then it
 * is opened afresh and the work is done once more, so work must be safe to repeat.
 * @param {(trouble: '' | 'blocked') => void} onTrouble  'blocked' while an old tab holds the old version; '' after
 * @param {typeof openDB} [open] */
export function shelf(onTrouble, open = openDB) {
  /** @type {Promise<Database> | null} */
  let opened = null;

  function database() {
    opened ??= open(NAME, VERSION, {
      upgrade,
      blocked: () => onTrouble('blocked'),
      // Another tab wants a newer version: stand aside, or it waits for ever.
      blocking: (_current, _wanted, event) => {
        opened = null;
        /** @type {IDBDatabase} */ (event.target).close();
      },
      terminated: () => {
        opened = null;
      },
    }).then(
      (db) => {
        onTrouble('');
        return /** @type {Database} */ (/** @type {unknown} */ (db));
      },
      (err) => {
        opened = null;
        throw err;
      },
    );
    return opened;
  }

  /** @template T @param {(db: Database) => Promise<T>} work @returns {Promise<T>} */
  return async function use(work) {
    try {
      return await work(await database());
    } catch (err) {
      if (!isDead(err)) throw err;
      opened = null;
      return work(await database());
    }
  };
}

/** Whether the connection is gone, rather than the work wrong or the disk full.
 * @param {unknown} err */
function isDead(err) {
  return err instanceof Error && ['InvalidStateError', 'UnknownError', 'AbortError'].includes(err.name);
}

/** @param {import('../vendor/idb/idb.js').IDBPDatabase<any>} db @param {number} from */
function upgrade(db, from) {
  if (from < 1) {
    db.createObjectStore('meta');
    db.createObjectStore('jobs', { keyPath: 'key' });
    for (const [name, keyPath] of /** @type {const} */ ([
      ['stacks', 'code'],
      ['parts', 'code'],
      ['drawings', ['job', 'name']],
    ])) {
      const kept = db.createObjectStore(name, { keyPath: /** @type {string | string[]} */ (keyPath) });
      kept.createIndex('job', 'job');
    }
    const rows = db.createObjectStore('rows', { keyPath: 'id' });
    rows.createIndex('part', 'part');
    rows.createIndex('unsent', 'unsent');
    rows.createIndex('unread', 'unread');
    rows.createIndex('aside', 'aside');
  }
  if (from < 2) {
    db.createObjectStore('gone', { keyPath: 'code' }).createIndex('job', 'job');
    const left = db.createObjectStore('left', { keyPath: 'id' });
    left.createIndex('shop', 'shop');
    left.createIndex('unsent', 'unsent');
  }
}
