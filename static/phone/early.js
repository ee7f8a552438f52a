// The storage is opened, and the first things read from it, while the rest of the app is still on its way: a cold start
// waits for both.  The page names this module before main.js, and it waits for nothing but the storage's own modules: the
// store (store.js), which knows of entries and packs, comes with the other screens.

import { readStanding, shelf } from './database.js';

/** @typedef {'' | 'blocked'} Trouble */

/** @type {Trouble} */
let trouble = '';
/** @type {(trouble: Trouble) => void} */
let listener = () => {};

/** Be told when an old tab holds the storage, and when it no longer does; at once if it does already.
 * @param {(trouble: Trouble) => void} told */
export function onTrouble(told) {
  listener = told;
  if (trouble) told(trouble);
}

/** Runs work on the database (database.js). */
export const use = shelf((now) => {
  if (now === trouble) return;
  trouble = now;
  listener(now);
});

/** How the phone stood when the app was opened. */
export const standing = readStanding(use);
standing.catch(() => {}); // main.js hears of it, but not before it is there
