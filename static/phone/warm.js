// The first sheet after a start opens as fast as the next: what it needs (templates, letters, the drawing's way into the
// page) is made ready once, while nobody waits.

import { render } from '../vendor/lit-html/lit-html.js';

/** Resolves when the browser has nothing better to do. */
export function idle() {
  return new Promise((resolve) => {
    if (typeof requestIdleCallback === 'function') requestIdleCallback(resolve, { timeout: 2_000 });
    else setTimeout(resolve, 1_000);
  });
}

/** Lay a view out and take it away again before anything is painted: nobody sees it, and nothing reads it out.
 * @param {unknown} view */
export function rehearse(view) {
  const room = document.createElement('div');
  room.inert = true;
  document.body.append(room);
  render(view, room);
  void room.offsetHeight; // laid out now
  room.remove();
}
