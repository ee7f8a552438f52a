// The app on the phone: what is wired to what.  State is here, views are pure, the store keeps what matters.

import { render } from '../vendor/lit-html/lit-html.js';
import { fold } from '../journal/fold.js';
import { shelf } from './database.js';
import * as device from './device.js';
import { newId, stepDraft } from './entry.js';
import { joining } from './join.js';
import { writing } from './pack.js';
import * as route from './route.js';
import { scanning } from './scan.js';
import { shellKeeper } from './shell.js';
import { stackRod } from './steps.js';
import { makeStore } from './store.js';
import { door, synchroniser } from './sync.js';
import { typing } from './typing.js';
import { plain } from './views/frame.js';
import { addToHomeScreenView, joinView } from './views/join.js';
import { outboxView } from './views/outbox.js';
import { partView } from './views/part.js';
import { scanView } from './views/scan.js';
import { stackView } from './views/stack.js';
import { stacksView } from './views/stacks.js';
import { stepsView } from './views/steps.js';
import { typeView, unknownView } from './views/type.js';

const UNDO_STANDS = 12_000; // how long "Undo" stands in place of the next step
const app = /** @type {HTMLElement} */ (document.getElementById('app'));
const awake = device.wakefulness();
const store = makeStore(shelf((trouble) => (state.blocked = trouble === 'blocked') && paint()));
const way = door();
const shell = shellKeeper(paint);
const sync = synchroniser({ store, door: way, app: () => shell.shell.version, onTalk: paint });

const state = {
  /** @type {route.Route} */
  route: route.read(location),
  blocked: false,
  /** @type {import('./store.js').Phone | undefined} */
  phone: undefined,
  /** @type {import('./store.js').SyncState} */
  sync: { generation: '', after: 0, answered: 0, offset: 0, refused: false },
  count: 0,
  /** What the office calls the shop's phones, by device.
   * @type {Record<string, string>} */
  names: {},
  /** @type {'' | 'in' | 'mm'} */
  unit: '',
  /** What the screen of this route shows: undefined while it is read.
   * @type {any} */
  model: undefined,
  /** @type {{says: string, drafts: import('./entry.js').Draft[], code: string} | null} */
  pressed: null,
  trouble: '',
  persisted: false,
  /** @type {BeforeInstallPromptEvent | null} */
  install: null,
};

const codes = typing({ store, paint, open: (code) => go({ screen: 'sheet', code }) });
const join = joining({ store, way, paint, done: joined, go });
const scan = scanning({ paint, open: (code) => go({ screen: 'sheet', code }), join: join.scanned });

// --- where we are ---

/** @param {route.Route} to */
function go(to) {
  history.pushState(null, '', route.write(to));
  void arrive();
}

/** A new address: read what its screen needs, then show it and say where we are. */
async function arrive() {
  state.route = route.read(location);
  const { screen } = state.route;
  state.trouble = '';
  state.model = undefined;
  codes.reset();
  if (state.pressed && !('code' in state.route && state.route.code === state.pressed.code)) state.pressed = null;
  scan.show(screen === 'scan' && (mayRecord() || join.isScanning()));
  void awake(screen === 'sheet' || screen === 'steps');
  await load();
  scrollTo(0, 0);
  const heading = app.querySelector('h1');
  document.title = heading ? `${heading.textContent?.trim()} · Facemark` : 'Facemark';
  heading?.focus({ preventScroll: true });
}

async function joined() {
  await refresh();
  void sync.now();
  go({ screen: 'scan' });
}

/** Whether this is a phone of the shop, so that what is pressed can be recorded. */
function mayRecord() {
  return Boolean(state.phone) && !device.isTabOnIos();
}

let loads = 0;

/** Read what the screen needs.  A later call wins over an earlier one. */
async function load() {
  const mine = (loads += 1);
  const { screen } = state.route;
  /** @type {any} */
  let model = {};
  try {
    if ('code' in state.route) model = await sheetModel(state.route.code);
    else if (screen === 'stacks') model = { jobs: await store.stacks(), rods: state.model?.rods ?? new Map() };
    else if (screen === 'outbox') model = { ...(await store.leftovers()), oldest: (await store.unsent())[0]?.at ?? 0 };
  } catch (err) {
    model = { failed: err instanceof Error ? err.message : String(err) };
  }
  if (mine !== loads) return;
  state.model = model;
  paint();
  if (screen === 'stacks' && !model.failed) void fillRods(mine, model);
}

/** @param {string} code */
async function sheetModel(code) {
  const six = scan.read(code);
  const sheet = six && (await store.sheet(six));
  if (!sheet) return { unknown: true };
  if (sheet.kind === 'part') return { sheet, progress: fold(sheet.rows), picture: picture(sheet) };
  return { sheet, parts: sheet.parts.map(({ part, rows }) => ({ part, route: part.route, progress: fold(rows) })) };
}

/** The rods of a list of stacks, one stack after the other, so that the list itself is there at once.
 * @param {number} mine @param {{jobs: Awaited<ReturnType<typeof store.stacks>>, rods: Map<string, unknown>}} model */
async function fillRods(mine, model) {
  for (const { stacks } of model.jobs) {
    for (const { code } of stacks) {
      const sheet = await store.sheet(code);
      if (mine !== loads) return;
      if (sheet?.kind !== 'stack') continue;
      model.rods.set(code, stackRod(sheet.parts.map(({ part, rows }) => ({ route: part.route, progress: fold(rows) }))));
    }
  }
  paint();
}

/** @type {Map<string, Node>} */
const pictures = new Map();

/** A drawing as a node of the page.  It comes from our own server; as XML, so that nothing in it is run.
 * @param {import('./store.js').PartSheet} sheet */
function picture({ part, job, drawing }) {
  if (!drawing) return null;
  const { unit } = writing(job, state.unit);
  const name = `${job.key}/${part.drawing}/${unit}`;
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

/** Keep it, then show it; then send it, soon.
 * @param {import('./entry.js').Draft[]} drafts @param {string} says @param {string} code */
async function record(drafts, says, code) {
  try {
    await store.record(drafts);
    state.trouble = '';
    state.pressed = says ? { says, drafts, code } : null;
    if (says) setTimeout(() => state.pressed?.drafts === drafts && ((state.pressed = null), paint()), UNDO_STANDS);
    sync.soon();
  } catch (err) {
    state.trouble = err instanceof Error && err.name === 'QuotaExceededError' ? 'the phone is full.' : `${err}`;
    device.answer(false);
  }
  await load();
}

const deeds = {
  /** @param {import('./pack.js').Step} step @param {boolean} done */
  press(step, done) {
    const { part } = state.model.sheet;
    const says = state.route.screen === 'sheet' ? step.done : '';
    return record([stepDraft(part.code, step.key, done)], says, part.code);
  },
  /** @param {import('./pack.js').Step} step @param {import('./views/stack.js').StackPart[]} parts */
  pressAll(step, parts) {
    const drafts = parts.map(({ part }) => stepDraft(part.code, step.key, true));
    return record(drafts, step.done, state.model.sheet.stack.code);
  },
  undo() {
    if (!state.pressed) return undefined;
    const { drafts, code } = state.pressed;
    return record(drafts.map(({ part, body }) => stepDraft(part, body.step, false)), '', code);
  },
  scan: () => go({ screen: 'scan' }),
};

const outbox = {
  send: () => void sync.now(),
  async save() {
    const entries = await store.unsent();
    const { device: id, name, shop } = state.phone ?? { device: '', name: '', shop: '' };
    const text = JSON.stringify({ form: 'facemark outbox', v: 1, id: newId(), device: id, name, shop, entries }, null, 1);
    await device.handOver(`facemark-outbox-${new Date().toISOString().slice(0, 10)}.json`, text);
  },
  /** @param {'' | 'in' | 'mm'} unit */
  setUnit: (unit) => void store.setUnit(unit),
  useNew: () => shell.use(),
  install: () => void state.install?.prompt(),
};

// --- what is shown ---

function pill() {
  return { count: state.count, joined: Boolean(state.phone), refused: state.sync.refused };
}

/** @param {string} id */
const names = (id) => (id === state.phone?.device ? 'this phone' : (state.names[id] ?? 'another phone'));

function paint() {
  render(view(), app);
}

function view() {
  const { route: at, model, pressed, trouble } = state;
  if (state.blocked) return plain('Close the other tab', 'An older version of this app is open in another tab, and holds what this phone knows. This goes on as soon as that tab is closed.');
  if (!model) return '';
  if (model.failed) return plain("This phone's storage does not answer", model.failed);
  const tab = device.isTabOnIos();
  const closed = /** @type {import('./views/part.js').Closed} */ (tab ? 'app' : state.phone ? '' : 'join');
  if ('code' in at) {
    if (model.unknown) return unknownView({ ...scan.unknown(at.code), pill: pill() }, deeds.scan);
    const common = { ...model, writing: writing(model.sheet.job, state.unit), pressed, closed, trouble, names, pill: pill() };
    if (model.sheet.kind === 'stack') return stackView(common, deeds);
    return at.screen === 'steps' && !closed ? stepsView(common, deeds) : partView(common, deeds);
  }
  if (at.screen === 'outbox') return outboxView(outboxModel(), { ...outbox });
  if (tab) return addToHomeScreenView();
  if (at.screen === 'join' || (!state.phone && at.screen !== 'scan')) return joinView(join.model(pill()), join.deeds);
  if (!state.phone && !join.isScanning()) return joinView(join.model(pill()), join.deeds);
  if (at.screen === 'stacks') return stacksView({ ...model, pill: pill() });
  if (at.screen === 'type') return typeView({ ...codes.model(), pill: pill() }, codes.deeds);
  return scanView(
    { ...scan.model(), joining: join.isScanning(), waiting: shell.shell.waiting, pill: pill() },
    { ...scan.deeds, useNew: shell.use },
  );
}

/** @returns {import('./views/outbox.js').OutboxModel} */
function outboxModel() {
  return {
    ...state.model,
    pill: pill(),
    talk: sync.talk,
    sync: state.sync,
    unit: state.unit,
    phone: state.phone,
    shell: shell.shell,
    app: shell.shell.version.slice(0, 7),
    persisted: state.persisted,
    installed: device.isInstalled(),
    canInstall: Boolean(state.install),
  };
}

// --- start ---

async function refresh() {
  const [phone, sync_, count, unit, named] = await Promise.all([
    store.phone(),
    store.sync(),
    store.unsentCount(),
    store.unit(),
    store.names(),
  ]);
  Object.assign(state, { phone, sync: sync_, count, unit, names: named });
}

/** @type {Promise<void> | null} */
let refreshing = null;
let stale = false;

/** Something in the store has changed: read again, once for many changes. */
async function changed() {
  stale = true;
  refreshing ??= (async () => {
    while (stale) {
      stale = false;
      await refresh();
      await load();
    }
    refreshing = null;
  })();
  return refreshing;
}

async function start() {
  addEventListener('popstate', () => void arrive());
  addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault();
    state.install = event;
    paint();
  });
  addEventListener('pointerdown', device.warmSound, { passive: true });
  document.addEventListener('click', (event) => {
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    if (!link || event.defaultPrevented || event.ctrlKey || event.metaKey || link.origin !== location.origin) return;
    event.preventDefault();
    const address = new URL(link.href);
    if (address.pathname === '/phone/' && !address.hash) join.leave();
    history.pushState(null, '', address);
    void arrive();
  });
  store.watch(() => void changed());
  try {
    await refresh();
  } catch (err) {
    state.model = { failed: err instanceof Error ? err.message : String(err) };
    return paint();
  }
  await arrive();
  void device.keepStorage().then((kept) => ((state.persisted = kept), paint()));
  void shell.start();
  if (!device.isTabOnIos()) void sync.start();
}

void start();
