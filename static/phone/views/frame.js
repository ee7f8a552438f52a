// What is on every screen: the way back to Scan, the outbox, and what has to be said.

import { html } from '../../vendor/lit-html/lit-html.js';

/** What every screen knows of the outbox.
 * @typedef {{count: number, joined: boolean, refused: boolean}} Pill */

/** The top of a screen.  `where` is what stands beside the way back.
 * @param {Pill} pill @param {unknown} where @param {{back?: boolean}} [how] */
export function top(pill, where, { back = true } = {}) {
  return html`<nav class="top" aria-label="Facemark">
    ${back ? html`<a class="way" href="/phone/">Scan</a>` : ''}<span class="where">${where}</span>${outboxPill(pill)}
  </nav>`;
}

/** @param {Pill} pill */
function outboxPill({ count, joined, refused }) {
  const held = refused || (!joined && count > 0);
  let says = 'all sent';
  if (held) says = count ? `${count} held back` : 'join again';
  else if (count) says = `${count} to send`;
  else if (!joined) says = 'not joined';
  return html`<a class="pill ${held ? 'here' : ''}" href="/phone/#outbox"><span>${says}</span></a>`;
}

/** @param {string} title @param {unknown} [under] @param {unknown} [beside] */
export function title(title, under = '', beside = '') {
  return html`<header class="title">
    <div>
      <h1 tabindex="-1">${title}</h1>
      ${under ? html`<p class="faint">${under}</p>` : ''}
    </div>
    ${beside}
  </header>`;
}

/** One sentence that has to be seen; read out when it appears.
 * @param {unknown} says */
export function notice(says) {
  return html`<div role="status" class="notice">${says ? html`<p>${says}</p>` : ''}</div>`;
}

/** A newer version is on the phone and waits.
 * @param {boolean} waiting @param {() => void} use */
export function newVersion(waiting, use) {
  return waiting
    ? html`<button class="line-button" @click=${use}><b>New version:</b> use it</button>`
    : '';
}

/** The whole screen says one thing and what to do.
 * @param {string} what @param {unknown} do_ */
export function plain(what, do_) {
  return html`<main class="plain">
    <h1 tabindex="-1">${what}</h1>
    <p>${do_}</p>
  </main>`;
}
