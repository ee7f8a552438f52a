// All screens but Scan, what is pressed on them, and the talk with the office: what is wired to what.

import { fold } from '../journal/fold.js';
import { readCode, show } from '../trade/code.js';
import * as device from './device.js';
import { newId, stepDraft } from './entry.js';
import { joining } from './join.js';
import { writing } from './pack.js';
import { presses } from './presses.js';
import { shellKeeper } from './shell.js';
import { nextStep, stackRod } from './steps.js';
import { makeStore } from './store.js';
import { door, synchroniser } from './sync.js';
import { typing } from './typing.js';
import { addToHomeScreenView, joinView } from './views/join.js';
import { outboxView } from './views/outbox.js';
import { partView, stepsView } from './views/part.js';
import { stackView, stacksView } from './views/stack.js';
import { typeView, unknownView } from './views/type.js';
import { idle, rehearse } from './warm.js';

/** @typedef {ReturnType<typeof screens>} Screens */
/** @typedef {import('./store.js').Store} Store */
/** @typedef {import('./views/stack.js').StackPart} StackPart */

/** @param {{use: Parameters<typeof makeStore>[0], state: import('./main.js').State, scan: ReturnType<typeof import('./scan.js').scanning>,
 *   paint: () => void, go: (to: import('./route.js').Route) => Promise<void>, load: () => Promise<void>,
 *   refresh: () => Promise<void>, changed: () => void}} with_ */
export function screens({ use, state, scan, paint, go, load, refresh, changed }) {
  const store = makeStore(use);
  store.watch(changed);
  const way = door();
  const pressing = presses(document);
  const shell = shellKeeper(paint);
  const sync = synchroniser({ store, door: way, app: () => shell.shell.version, onTalk: paint });
  const codes = typing({ store, paint, open: (code) => void go({ screen: 'sheet', code }) });
  const join = joining({
    store,
    way,
    paint,
    go,
    standing: () => state,
    async done() {
      await refresh();
      void sync.now();
      // What was not sent to another shop is no longer counted: say so, once.
      const { left } = await store.leftovers();
      // Scan is there as soon as the phone has joined, and somebody quick may have gone on from it.
      if (['join', 'scan'].includes(state.route.screen)) await go({ screen: left.length ? 'outbox' : 'scan' });
    },
  });

  // --- what a screen needs to know ---

  /** @returns {Promise<any>} */
  async function read() {
    const at = state.route;
    if ('code' in at) return sheet(at.code);
    if (at.screen === 'outbox') return { ...(await store.leftovers()), oldest: (await store.unsent())[0]?.at ?? 0 };
    if (at.screen !== 'stacks') return {};
    const model = { jobs: await store.stacks(), rods: state.model?.rods ?? new Map() };
    void fillRods(model);
    return model;
  }

  /** @param {string} code */
  async function sheet(code) {
    const six = tidy(code);
    const found = six && (await store.sheet(six));
    if (!found) return { unknown: true, gone: six && (await store.gone(six)) };
    if (found.kind === 'part') return partModel(found);
    return { sheet: found, parts: found.parts.map(walked), picture: picture(found) };
  }

  /** Which step of which part is drawn by itself, as "code/step"; '' while parts are drawn whole. */
  let near = '';

  /** @param {import('./store.js').PartSheet} found */
  async function partModel(found) {
    const { part, job, rows } = found;
    const progress = fold(rows);
    const step = nextStep({ route: part.route, progress });
    const name = step?.drawing;
    if (!name) return { sheet: found, progress, picture: picture(found) };
    const close = near === `${part.code}/${step.key}`;
    const drawing = close ? await store.drawing(job.key, name) : undefined;
    const shown = drawing ? { ...found, drawing, part: { ...part, drawing: name } } : found;
    return { sheet: found, progress, picture: picture(shown), look: { step, close: Boolean(drawing) } };
  }

  /** The rods of a list of stacks, one stack after the other, so that the list itself is there at once.
   * @param {{jobs: Awaited<ReturnType<Store['stacks']>>, rods: Map<string, unknown>}} model */
  async function fillRods(model) {
    for (const { stacks } of model.jobs) {
      for (const { code } of stacks) {
        const found = await store.sheet(code);
        if (state.route.screen !== 'stacks') return;
        if (found?.kind === 'stack') model.rods.set(code, stackRod(found.parts.map(walked)));
      }
    }
    paint();
  }

  /** @param {import('./store.js').StackSheet['parts'][number]} one @returns {StackPart} */
  const walked = ({ part, rows }) => ({ part, route: part.route, progress: fold(rows) });

  /** @type {Map<string, Node>} */
  const pictures = new Map();

  /** A drawing as a node of the page.  It comes from our own server; as XML, so that nothing in it is run.
   * @param {import('./store.js').PartSheet | import('./store.js').StackSheet} sheet */
  function picture(sheet) {
    const { job, drawing } = sheet;
    if (!drawing) return null;
    const { unit } = writing(job, state.unit);
    const name = `${job.key}/${(sheet.kind === 'part' ? sheet.part : sheet.stack).drawing}/${unit}`;
    let node = pictures.get(name);
    if (!node) {
      const { documentElement } = new DOMParser().parseFromString(drawing[unit], 'image/svg+xml');
      if (documentElement.nodeName !== 'svg') return null;
      node = document.importNode(documentElement, true);
      if (pictures.size > 20) pictures.clear();
      pictures.set(name, node);
    }
    return node;
  }

  // --- what is pressed ---

  /** What was said to be the real length of a part, while its sheet is open.
   * @type {import('./views/short.js').Real | null} */
  let real = null;

  /** Keep it, then show it; then send it, soon.
   * @param {import('./entry.js').Draft[]} drafts @param {string} says @param {string} code */
  const record = (drafts, says, code) =>
    pressing.during(async () => {
      try {
        await store.record(drafts);
        state.trouble = '';
        state.pressed = says ? { says, drafts, code } : null;
        sync.soon();
      } catch (err) {
        state.trouble = err instanceof Error && err.name === 'QuotaExceededError' ? 'the phone is full.' : `${err}`;
        device.answer(false);
      }
      await load();
    });

  const deeds = {
    /** @param {string} code @param {import('./pack.js').Step} step @param {boolean} done @param {string} says */
    press: (code, step, done, says) => record([stepDraft(code, step.key, done)], says, code),
    /** @param {string} code  of the stack @param {import('./pack.js').Step} step @param {StackPart[]} parts */
    pressAll(code, step, parts) {
      const drafts = parts.map(({ part }) => stepDraft(part.code, step.key, true));
      return record(drafts, step.done, code);
    },
    /** @param {import('./views/frame.js').Pressed} pressed */
    undo: ({ drafts, code }) => record(drafts.map(({ part, body }) => stepDraft(part, body.step, false)), '', code),
    /** What was pressed stands; on to the next step of the same sheet. */
    goOn() {
      state.pressed = null;
      pressing.changes();
      paint();
    },
    scan: () => void go({ screen: 'scan' }),
    /** Draw the next step by itself, or the whole part again.
     * @param {string} code @param {string} step */
    look(code, step) {
      near = near === `${code}/${step}` ? '' : `${code}/${step}`;
      void load();
    },
    /** @param {import('./views/short.js').Real | null} measured */
    measure(measured) {
      if (!real || !measured) pressing.changes(); // what is under the thumb has become something else
      real = measured;
      paint();
      document.querySelector('.short')?.scrollIntoView();
    },
    /** @param {string} code */
    open: (code) => void go({ screen: 'sheet', code }),
  };

  /** Entries as a file, which the office of their shop can read.
   * @param {string} shop @param {string} shopId @param {import('../journal/fold.js').Entry[]} entries */
  function hand(shop, shopId, entries) {
    const { device: id = '', name = '' } = state.phone ?? {};
    const kept = { form: 'facemark outbox', v: 1, id: newId(), device: id, name, shop, shop_id: shopId, entries };
    return device.handOver(`facemark-outbox-${new Date().toISOString().slice(0, 10)}.json`, JSON.stringify(kept, null, 1));
  }

  const outbox = {
    send: () => void sync.now(),
    async save() {
      const { shop = '', shopId = '' } = state.phone ?? {};
      await hand(shop, shopId, await store.unsent());
    },
    /** What was not sent to a shop that this phone was in before.
     * @param {string} id */
    async saveLeft(id) {
      const rows = (await store.leftovers()).left.filter((row) => row.shop === id);
      await hand(rows[0]?.of ?? '', id, rows.map(({ entry }) => entry));
    },
    /** @param {'' | 'in' | 'mm'} unit */
    setUnit: (unit) => void store.setUnit(unit),
    useNew: () => shell.use(),
    /** The browser's offer is good for one question. */
    install() {
      void state.install?.prompt();
      state.install = null;
      paint();
    },
  };

  // --- what is shown ---

  const pill = () => ({ count: state.count, joined: Boolean(state.phone), refused: state.sync.refused, tight: state.tight });

  /** @param {string} id */
  const names = (id) => (id === state.phone?.device ? 'this phone' : (state.names[id] ?? 'another phone'));

  function view() {
    const { route: at, model } = state;
    const tab = device.isTabOnIos();
    if ('code' in at) return model.unknown ? unknownView({ ...unknown(at.code), gone: model.gone, pill: pill() }, deeds.scan) : sheetView(tab);
    if (at.screen === 'outbox') return outboxView(outboxModel(), outbox);
    if (tab) return addToHomeScreenView();
    if (at.screen === 'join' || !state.phone) {
      const home = device.isInstalled() ? '' : state.install ? 'ask' : 'say';
      return joinView({ ...join.model(), home, pill: pill() }, { ...join.deeds, install: outbox.install });
    }
    if (at.screen === 'stacks') return stacksView({ ...model, pill: pill() });
    return typeView({ ...codes.model(), pill: pill() }, codes.deeds);
  }

  /** @param {boolean} tab @param {any} [model] */
  function sheetView(tab, model = state.model) {
    const { trouble, unit } = state;
    const { code } = model.sheet.kind === 'part' ? model.sheet.part : model.sheet.stack;
    const pressed = state.pressed?.code === code ? state.pressed : null;
    const closed = /** @type {import('./views/part.js').Closed} */ (tab ? 'app' : state.phone ? '' : 'join');
    const all = { ...model, writing: writing(model.sheet.job, unit), pressed, closed, trouble, names, pill: pill(), real: real?.code === code ? real : null };
    if (model.sheet.kind === 'stack') return stackView(all, deeds);
    return state.route.screen === 'steps' && !closed ? stepsView(all, deeds) : partView(all, deeds);
  }

  /** @returns {import('./views/outbox.js').OutboxModel} */
  function outboxModel() {
    const { sync: exchanged, unit, phone, persisted, install } = state;
    return {
      ...state.model,
      pill: pill(),
      talk: sync.talk,
      sync: exchanged,
      unit,
      phone,
      persisted,
      shell: shell.shell,
      app: shell.shell.version.slice(0, 7),
      installed: device.isInstalled(),
      canInstall: Boolean(install),
    };
  }

  return {
    load: read,
    view,
    join,
    shell: shell.shell,
    useNew: () => shell.use(),
    /** Another screen comes: what was typed goes, what was pressed stands, and a scan of the office's code has ended if
     * it is not that. */
    leave() {
      pressing.changes();
      codes.reset();
      near = '';
      real = null;
      const at = state.route;
      if (state.pressed && !('code' in at && tidy(at.code) === state.pressed.code)) state.pressed = null;
      if (at.screen !== 'scan') join.leave();
    },
    /** Begin to look after the app itself, and to talk with the office. */
    async start() {
      void shell.start();
      if (!device.isTabOnIos()) await sync.start();
      await idle();
      const [any] = await store.beginningWith('', 1);
      if (any && state.route.screen === 'scan') rehearse(sheetView(false, await sheet(any.code)));
    },
  };
}

/** The six symbols of an address, or '' if it is none.
 * @param {string} text */
function tidy(text) {
  try {
    return readCode(text);
  } catch {
    return '';
  }
}

/** What to say of a code that no pack has.
 * @param {string} text */
function unknown(text) {
  try {
    return { code: show(readCode(text)), says: 'Not in the jobs on this phone yet' };
  } catch (err) {
    return { code: text.slice(0, 12), says: err instanceof Error ? err.message : String(err), slip: true };
  }
}
