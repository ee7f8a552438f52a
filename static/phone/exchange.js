// How do phone and office come to know the same?  One exchange: send, ask, fetch the packs.  No browser in here.
//
// Acknowledged is what stands in the results, entry by entry.  Nothing is deleted on either side, and everything may be
// done twice: a lost answer costs a repetition, never an entry.

/** @typedef {import('../journal/fold.js').Entry} Entry */
/** What the server answered; `body` is null if it was no JSON.
 * @typedef {{status: number, body: any}} Answer */
/** The way to the server.  Rejects with NoAnswer.
 * @typedef {{get(path: string): Promise<Answer>, post(path: string, body: unknown): Promise<Answer>}} Door */
/** @typedef {Pick<import('./store.js').Store, 'sync' | 'unsent' | 'acknowledge' | 'take' | 'startOver' | 'noteSync'
 *   | 'jobs' | 'keepPack' | 'listJobs' | 'standing' | 'keepNames'>} Shelf */

export const BATCH = 200;
export const BATCH_BYTES = 240 * 1024; // the server takes 256 KiB, envelope and all
const PAGE = 500;
const ROUNDS = 4; // a server that starts over each time we ask is broken: stop and say so

/** The server did not answer at all, or not in time. */
export class NoAnswer extends Error {}

/** The server does not know this phone (any more). */
export class Refused extends Error {}

/** The server answered that something is wrong; the message can be read by a person. */
export class Trouble extends Error {}

/** Cut entries into lots that the server takes, in order; an oversize entry goes alone.
 * @param {readonly Entry[]} entries @param {number} [most] @param {number} [bytes] @returns {Entry[][]} */
export function lots(entries, most = BATCH, bytes = BATCH_BYTES) {
  /** @type {Entry[][]} */
  const made = [];
  let size = Infinity;
  for (const entry of entries) {
    const own = new TextEncoder().encode(JSON.stringify(entry)).length + 1;
    const lot = made[made.length - 1];
    if (!lot || lot.length >= most || size + own > bytes) {
      made.push([entry]);
      size = own;
    } else {
      lot.push(entry);
      size += own;
    }
  }
  return made;
}

/** Do one whole exchange.  Resolves when phone and server agree; rejects with NoAnswer, Refused or Trouble, and what was
 * agreed until then stays.
 * @param {{store: Shelf, door: Door, app: string, now: () => number}} with_ */
export async function exchange({ store, door, app, now }) {
  for (let round = 0; round < ROUNDS; round += 1) {
    if ((await send({ store, door, app, now })) && (await ask({ store, door, now }))) return fetchPacks({ store, door });
  }
  throw new Trouble('The office keeps starting over. Tell whoever looks after it.');
}

/** Hand over what is to be sent.  Resolves to false if the server has started over: then there is more to be sent.
 * @param {{store: Shelf, door: Door, app: string, now: () => number}} with_ */
async function send({ store, door, app, now }) {
  const unsent = await store.unsent();
  let waiting = unsent.length;
  const queue = lots(unsent);
  for (let lot = queue.shift(); lot; lot = queue.shift()) {
    const { generation, seen } = await store.sync();
    const before = now();
    const left = waiting - lot.length;
    const answer = await door.post('/sync', { generation, client_now: before, app, waiting: left, seen, entries: lot });
    if (answer.status === 413 && lot.length > 1) {
      queue.unshift(lot.slice(0, lot.length >> 1), lot.slice(lot.length >> 1));
      continue;
    }
    const body = good(answer);
    await store.acknowledge(body.generation, body.results);
    await answered(store, body, before, now());
    if (body.generation !== generation) return false;
    waiting = left;
  }
  return true;
}

/** Ask for what others wrote.  Resolves to false if the server has started over: then everything has to be sent first.
 * @param {{store: Shelf, door: Door, now: () => number}} with_ */
async function ask({ store, door, now }) {
  for (let more = true; more; ) {
    const { generation, after, seen } = await store.sync();
    const before = now();
    const waiting = (await store.unsent()).length;
    const known = `generation=${encodeURIComponent(generation)}&after=${after}&seen=${encodeURIComponent(seen)}`;
    const body = good(await door.get(`/sync?${known}&limit=${PAGE}&waiting=${waiting}`));
    if (body.start_over) {
      await store.startOver(body.generation);
      return false;
    }
    if (body.entries.length || body.next !== after) await store.take(body.generation, body.entries, body.next);
    await answered(store, body, before, now());
    more = body.more;
  }
  return true;
}

/** Fetch what is new of the jobs.  One that cannot be had or kept keeps no other from the phone; it is told at the end.
 * @param {{store: Shelf, door: Door}} with_ */
async function fetchPacks({ store, door }) {
  /** @type {{jobs: {key: string, etag: string}[], phones?: Record<string, string>}} */
  const { jobs: listed, phones } = good(await door.get('/packs'));
  if (phones && JSON.stringify(phones) !== JSON.stringify((await store.standing()).names)) await store.keepNames(phones);
  const held = await store.jobs();
  /** @type {unknown[]} */
  const troubles = [];
  for (const { key, etag } of listed) {
    if (held.find((job) => job.key === key)?.etag === etag) continue;
    const answer = await door.get(`/pack/${encodeURIComponent(key)}`);
    try {
      await store.keepPack(good(answer));
    } catch (err) {
      if (err instanceof Refused) throw err;
      troubles.push(err);
    }
  }
  const keys = listed.map(({ key }) => key);
  if (held.some((job) => job.listed !== keys.includes(job.key))) await store.listJobs(keys);
  if (troubles.length) throw troubles[0];
}

/** @param {Shelf} store @param {{server_now?: number}} body @param {number} before @param {number} after */
async function answered(store, body, before, after) {
  const offset = body.server_now ? Math.round((before + after) / 2 - body.server_now) : 0;
  await store.noteSync({ answered: after, offset, refused: false });
}

/** What to say of an answer that is none of the office's.
 * @param {number} status */
export const strange = (status) =>
  status === 200 ? 'Something else than the office answered at this address.' : `The office answered ${status}.`;

/** @param {Answer} answer @returns {any} */
function good({ status, body }) {
  if (status === 401) throw new Refused(body?.error?.says ?? 'This phone has not joined the shop.');
  if (status !== 200 || !body) throw new Trouble(body?.error?.says ?? strange(status));
  return body;
}
