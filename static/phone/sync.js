// When does the phone talk to the office?  By itself whenever it can, and when somebody asks.
//
// Not on the browser's word that there is a network: only an answer of the server counts.  A save is never kept waiting.

import { NoAnswer, Refused, exchange } from './exchange.js';

const TIME_LIMIT = 8_000;
const PACK_TIME_LIMIT = 60_000;
const AFTER_SAVE = 2_000;
const EVERY = 30_000;
const AGAIN = 4_000;
const AT_MOST = 300_000;
const AT_MOST_UNSENT = 60_000; // while somebody may be looking at what is not sent

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

/** How long to wait after so many failures in a row, in milliseconds: one lost answer is asked for again in seconds, then
 * it is longer each time, and never in step with others.
 * @param {number} failures @param {number} chance  from 0 to 1 @param {number} [most] */
export function patience(failures, chance, most = AT_MOST) {
  return failures ? Math.min(most, AGAIN * 2 ** failures) * (0.5 + chance / 2) : EVERY;
}

/** What went wrong, for a person.
 * @param {unknown} err */
function told(err) {
  if (!(err instanceof Error)) return String(err);
  return err.name === 'QuotaExceededError'
    ? 'This phone is full: not all that the office has could be kept. What was pressed here is safe. Make room on the phone.'
    : err.message;
}

/** @param {{store: import('./store.js').Store, door: import('./exchange.js').Door, app: () => string, onTalk: () => void}} with_ */
export function synchroniser({ store, door: way, app, onTalk }) {
  /** @type {Talk} */
  const talk = { busy: false, refused: false, trouble: '' };
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  let failures = 0;
  let running = false;
  let again = false;

  /** Run after a delay; if it runs already, soon after that: what is wanted now may have come too late for it.
   * @param {number} delay */
  function later(delay) {
    if (running) {
      again = true;
      return;
    }
    clearTimeout(timer);
    timer = setTimeout(() => void run(false), delay);
  }

  /** One exchange, unless another one (in any tab) is at work.  Never rejects.
   * @param {boolean} asked  by a person: tries even if the office has refused this phone */
  async function run(asked) {
    if (running) {
      again = true;
      return;
    }
    running = true;
    let delay = 0;
    try {
      if (!(await store.phone()) || ((await store.sync()).refused && !asked)) return;
      talk.busy = true;
      onTalk();
      if (await alone(() => exchange({ store, door: way, app: app(), now: Date.now }))) {
        failures = 0;
        Object.assign(talk, { refused: false, trouble: '' });
      } else {
        again = true;
        if (asked) talk.trouble = 'Another tab of this app is sending.';
      }
      delay = EVERY;
    } catch (err) {
      failures += 1;
      const refused = err instanceof Refused;
      Object.assign(talk, { refused, trouble: told(err) });
      if (refused) await store.noteSync({ refused: true }).catch(() => {}); // it will be refused again
      delay = patience(failures, Math.random(), (await isAwaited()) ? AT_MOST_UNSENT : AT_MOST);
    } finally {
      running = false;
      talk.busy = false;
      onTalk();
      if (again || delay) later(again ? AFTER_SAVE : delay);
      again = false;
    }
  }

  /** Whether somebody may be looking, and something is to be sent. */
  async function isAwaited() {
    if (document.visibilityState !== 'visible') return false;
    return store.standing().then(
      ({ count }) => count > 0,
      () => true, // the storage does not answer: better once too often
    );
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

/** Work, unless another tab is at it.  Resolves to whether it was done here.
 * @param {() => Promise<unknown>} work @returns {Promise<boolean>} */
async function alone(work) {
  const done = () => work().then(() => true);
  if (!navigator.locks) return done();
  return navigator.locks.request('facemark-exchange', { ifAvailable: true }, (lock) => (lock ? done() : false));
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
