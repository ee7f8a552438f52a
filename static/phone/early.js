// The storage is opened, and the first things read from it, while the rest of the app is still on its way: a cold start
// waits for both.  The page names this module before main.js.

import { shelf } from './database.js';
import { makeStore } from './store.js';

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

export const store = makeStore(
  shelf((now) => {
    if (now === trouble) return;
    trouble = now;
    listener(now);
  }),
);

/** How the phone stood when the app was opened. */
export const standing = store.standing();
standing.catch(() => {}); // main.js hears of it, but not before it is there
