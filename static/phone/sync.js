// When does the phone talk to the office?  By itself whenever it can, and when somebody asks.
//
// Not on the browser's word that there is a network: only an answer of the server counts.  A save is never kept waiting.

import { NoAnswer, Refused, exchange } from './exchange.js';

const TIME_LIMIT = 8_000;
const PACK_TIME_LIMIT = 60_000;
const AFTER_SAVE = 2_000;
const EVERY = 30_000;
const AT_MOST = 300_000;

/** How it stands, for the screen.  `trouble` is '' or one sentence.
 * @typedef {{busy: boolean, refused: boolean, trouble: string}} Talk */

/** The way to the server of this very address, with a time limit.
 * @returns {import('./exchange.js').Door} */
export function door() {
  /** @param {string} path @param {RequestInit} [more] @returns {Promise<import('./exchange.js').Answer>} */
  async function call(path, more = {}) {
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), path.startsWith('/pack/') ? PACK_TIME_LIMIT : TIME_LIMIT);
    try {
      const answer = await fetch(path, { cache: 'no-store', signal: patience.signal, ...more });
      const text = await answer.text();
      return { status: answer.status, body: readJson(text) };
    } catch (err) {
      throw new NoAnswer('No answer from the office.', { cause: err });
    } finally {
      clearTimeout(timer);
    }
  }
  return {
    get: (path) => call(path),
    post: (path, body) =>
      call(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) }),
  };
}

/** @param {string} text */
function readJson(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** How long to wait after so many failures in a row, in milliseconds: longer each time, never in step with others.
 * @param {number} failures @param {number} chance  from 0 to 1 */
export function patience(failures, chance) {
  return Math.min(AT_MOST, EVERY * 2 ** failures) * (failures ? 0.5 + chance / 2 : 1);
}

/** @param {{store: import('./store.js').Store, door: import('./exchange.js').Door, app: () => string, onTalk: () => void}} with_ */
export function synchroniser({ store, door: way, app, onTalk }) {
  /** @type {Talk} */
  const talk = { busy: false, refused: false, trouble: '' };
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  let failures = 0;
  let again = false;

  /** @param {number} delay */
  function later(delay) {
    clearTimeout(timer);
    timer = setTimeout(() => void run(false), delay);
  }

  /** One exchange, unless another one (in any tab) is at work.
   * @param {boolean} asked  by a person: tries even if the office has refused this phone */
  async function run(asked) {
    if (talk.busy) {
      again = true;
      return;
    }
    if (!(await store.phone()) || ((await store.sync()).refused && !asked)) return;
    Object.assign(talk, { busy: true });
    onTalk();
    try {
      await alone(() => exchange({ store, door: way, app: app(), now: Date.now }));
      failures = 0;
      Object.assign(talk, { refused: false, trouble: '' });
    } catch (err) {
      failures += 1;
      const refused = err instanceof Refused;
      Object.assign(talk, { refused, trouble: err instanceof Error ? err.message : String(err) });
      if (refused) await store.noteSync({ refused: true });
    } finally {
      talk.busy = false;
      onTalk();
      later(again && !failures ? AFTER_SAVE : patience(failures, Math.random()));
      again = false;
    }
  }

  return {
    talk,
    /** After a save: soon, and together with what is saved until then. */
    soon() {
      later(AFTER_SAVE);
      void askForWaking();
    },
    /** Now, because somebody pressed the button. */
    now: () => run(true),
    /** Start, and keep going: on start, on coming to front, when the network seems back, and on a timer. */
    async start() {
      talk.refused = (await store.sync()).refused;
      document.addEventListener('visibilitychange', () => {
        if (document.visibilityState === 'visible') later(0);
      });
      addEventListener('online', () => later(0));
      navigator.serviceWorker?.addEventListener('message', ({ data }) => {
        if (data === 'send') later(0);
      });
      later(0);
    },
  };
}

/** @template T @param {() => Promise<T>} work */
async function alone(work) {
  if (!navigator.locks) return work();
  return navigator.locks.request('facemark-exchange', { ifAvailable: true }, (lock) => (lock ? work() : undefined));
}

/** Background Sync, where the browser has it; nothing hangs on it. */
async function askForWaking() {
  try {
    const registration = await navigator.serviceWorker?.getRegistration();
    await registration?.sync?.register('send');
  } catch {
    // Refused or not there.
  }
}
