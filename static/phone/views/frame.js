// What is on every screen: the way back to Scan, the outbox, what has to be said, and what can be pressed at the thumb.

import { html } from '../../vendor/lit-html/lit-html.js';

/** What every screen knows of the outbox; `tight`: the phone is nearly full.
 * @typedef {{count: number, joined: boolean, refused: boolean, tight?: boolean}} Pill */

/** The top of a screen, in sight however far it is scrolled.  `where` is what stands beside the way back.
 * @param {Pill} pill @param {unknown} where @param {{back?: boolean}} [how] */
export function top(pill, where, { back = true } = {}) {
  return html`<nav class="top" aria-label="Facemark">
    ${back ? html`<a class="way" href="/phone/">Scan</a>` : ''}<span class="where">${where}</span>${outboxPill(pill)}
  </nav>`;
}

/** @param {Pill} pill */
function outboxPill({ count, joined, refused, tight }) {
  const held = refused || (!joined && count > 0);
  let says = 'all sent';
  if (held) says = count ? `${count} held back` : 'join again';
  else if (count) says = `${count} to send`;
  else if (!joined) says = 'not joined';
  else if (tight) says = 'phone nearly full';
  return html`<a class="pill ${held || tight ? 'here' : ''}" href="/phone/#outbox"><span>${says}</span></a>`;
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

/** What was just pressed on the sheet of this code, and can be taken back.
 * @typedef {{says: string, code: string, drafts: import('../entry.js').Draft[]}} Pressed */
/** A thing to press: what will be true afterwards, and what matters for it.
 * @typedef {{says: unknown, under?: unknown, press: () => void}} Deed */

/** The bottom of a sheet, where the thumb is: the rod, and at most two things to press.
 * @param {{rod: unknown, main: Deed | null, other: unknown, idle: unknown, stay?: unknown}} what
 *   `idle` stands in place of the main button when there is nothing to press; `stay` above all (stayHere) */
export function dock({ rod, main, other, idle, stay = '' }) {
  return html`<footer class="dock">
    ${stay} ${rod}
    <div class="deeds">${main ? deed(main) : idle}${other}</div>
  </footer>`;
}

/** @param {Deed} deed */
export function deed({ says, under, press }) {
  return html`<button class="deed" @click=${press}>
    <b>${says}</b>${under ? html`<span>${under}</span>` : ''}
  </button>`;
}

/** After a press: the next label, or take it back.  It stands until somebody goes on: nothing changes under the thumb.
 * @param {Pressed} pressed @param {{scan(): void, undo(pressed: Pressed): void}} deeds */
export function afterPress(pressed, { scan, undo }) {
  return html`${deed({ says: 'Scan next', under: `${pressed.says}: saved`, press: scan })}
    <button class="outlined" @click=${() => undo(pressed)}>Undo</button>`;
}

/** After a press, whoever stays at the same sheet goes on with its next step.
 * @param {string} next  what will be true after it @param {() => void} goOn */
export function stayHere(next, goOn) {
  return html`<button class="line-button" @click=${goOn}>Next step here: <b>${next}</b></button>`;
}
