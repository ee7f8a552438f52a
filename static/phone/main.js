// The app on the phone opens: where we are, the Scan screen, and what is shown.
//
// A cold start shows Scan before the rest of the app has been read: that comes right after (screens.js), all at once and
// from the same kept version.  State is here, views are pure, the store keeps what matters.

import { render } from '../vendor/lit-html/lit-html.js';
import * as device from './device.js';
import { NEVER, readStanding } from './database.js';
import { onTrouble, standing, use } from './early.js';
import * as route from './route.js';
import { scanning } from './scan.js';
import { plain } from './views/frame.js';
import { scanView } from './views/scan.js';

/** What the screens share.  `model` is what the screen of this route shows, undefined while it is read; `pressed` is what
 * was just pressed and can be taken back; `trouble` says why it could not be kept.
 * @typedef {import('./database.js').Standing & {route: route.Route, blocked: boolean, model: any, trouble: string,
 *   pressed: import('./views/frame.js').Pressed | null, persisted: boolean, tight: boolean,
 *   install: BeforeInstallPromptEvent | null}} State */

const app = /** @type {HTMLElement} */ (document.getElementById('app'));
const awake = device.wakefulness();

/** @type {State} */
const state = {
  phone: undefined,
  sync: NEVER,
  count: 0,
  names: {},
  unit: '',
  route: route.read(location),
  blocked: false,
  model: undefined,
  trouble: '',
  pressed: null,
  persisted: false,
  tight: false,
  install: null,
};

const scan = scanning({
  paint,
  open: (code) => go({ screen: 'sheet', code }),
  join: (text) => screens?.join.scanned(text) ?? false,
});

/** @type {import('./screens.js').Screens | undefined} */
let screens;
/** @type {Promise<import('./screens.js').Screens> | undefined} */
let coming;

/** All other screens. */
function others() {
  coming ??= import('./screens.js').then((made) => {
    screens = made.screens({ use, state, scan, paint, go, load, refresh, changed: () => void changed() });
    return screens;
  });
  return coming;
}

// --- where we are ---

/** @param {route.Route} to */
function go(to) {
  history.pushState(null, '', route.write(to));
  return arrive();
}

/** A new address: read what its screen needs, then show it and say where we are. */
async function arrive() {
  state.route = route.read(location);
  const at = state.route;
  state.trouble = '';
  state.model = undefined;
  screens?.leave();
  const camera = at.screen === 'scan' && (mayRecord() || Boolean(screens?.join.isScanning()));
  if (!camera) scan.show(false);
  await load();
  if (camera) void shown().then(() => scan.show(state.route.screen === 'scan'));
  void awake(at.screen === 'sheet' || at.screen === 'steps');
  scrollTo(0, 0);
  const heading = app.querySelector('h1');
  document.title = heading ? `${heading.textContent?.trim()} · Facemark` : 'Facemark';
  heading?.focus({ preventScroll: true });
}

/** Whether this is a phone of the shop, so that what is pressed can be recorded. */
function mayRecord() {
  return Boolean(state.phone) && !device.isTabOnIos();
}

/** Resolves when what was painted can be seen: what takes long waits for it. */
function shown() {
  return new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, 500); // a hidden page paints nothing
  });
}

let loads = 0;

/** Read what the screen needs, and show it.  A later call wins over an earlier one. */
async function load() {
  const mine = (loads += 1);
  /** @type {any} */
  let model = {};
  try {
    if (!isScan()) model = await (await others()).load();
  } catch (err) {
    model = { failed: err instanceof Error ? err.message : String(err) };
  }
  if (mine !== loads) return;
  state.model = model;
  paint();
}

/** Whether this is the first screen of a phone that has joined: it needs nothing but itself. */
function isScan() {
  return state.route.screen === 'scan' && mayRecord();
}

// --- what is shown ---

/** While the next screen is read, the one before it stays: what is pressed on it still is about what is seen. */
function paint() {
  if (state.model || state.blocked) render(view(), app);
}

function view() {
  if (state.blocked) {
    return plain(
      'Close the other tab',
      'An older version of this app is open in another tab, and holds what this phone knows. This goes on as soon as that tab is closed.',
    );
  }
  if (state.model.failed) return plain("This phone's storage does not answer", state.model.failed);
  if (!isScan() && !screens?.join.isScanning()) return screens?.view() ?? '';
  const { count, phone, sync } = state;
  return scanView(
    {
      ...scan.model(),
      joining: Boolean(screens?.join.isScanning()),
      waiting: Boolean(screens?.shell.waiting),
      pill: { count, joined: Boolean(phone), refused: sync.refused, tight: state.tight },
    },
    { ...scan.deeds, useNew: () => screens?.useNew(), type: () => screens?.join.deeds.type(), back: () => screens?.join.deeds.back() },
  );
}

// --- start ---

async function refresh() {
  Object.assign(state, await readStanding(use));
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

/** Links lead to other screens of this page, not to other pages.
 * @param {MouseEvent} event */
function follow(event) {
  const link = event.target instanceof Element ? event.target.closest('a') : null;
  if (!link || event.defaultPrevented || event.ctrlKey || event.metaKey || link.origin !== location.origin) return;
  if (link.hasAttribute('download')) return;
  event.preventDefault();
  history.pushState(null, '', link.href);
  void arrive();
}

async function start() {
  addEventListener('popstate', () => void arrive());
  addEventListener('pointerdown', device.warmSound, { passive: true });
  addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault();
    state.install = event;
    paint();
  });
  document.addEventListener('click', follow);
  onTrouble((trouble) => {
    state.blocked = trouble === 'blocked';
    paint();
  });
  try {
    Object.assign(state, await standing);
  } catch (err) {
    state.model = { failed: err instanceof Error ? err.message : String(err) };
    return paint();
  }
  await arrive();
  await shown();
  await (await others()).start();
  state.persisted = await device.keepStorage();
  state.tight = await device.isNearlyFull();
  return paint();
}

void start();
