// The two things that can be pressed at the bottom of a sheet, where the thumb is.

import { html } from '../../vendor/lit-html/lit-html.js';

/** What was just pressed, and can be taken back.
 * @typedef {{says: string}} Pressed */
/** A thing to press: what will be true afterwards, and what matters for it.
 * @typedef {{says: unknown, under?: unknown, press: () => void}} Deed */

/** @param {{rod: unknown, main: Deed | null, other: unknown, idle: unknown}} what
 *   `idle` stands in place of the main button when there is nothing to press */
export function dock({ rod, main, other, idle }) {
  return html`<footer class="dock">
    ${rod}
    <div class="deeds">${main ? deed(main) : idle}${other}</div>
  </footer>`;
}

/** @param {Deed} deed */
export function deed({ says, under, press }) {
  return html`<button class="deed" @click=${press}>
    <b>${says}</b>${under ? html`<span>${under}</span>` : ''}
  </button>`;
}

/** After a press: the next label, or take it back.
 * @param {Pressed} pressed @param {() => void} scan @param {() => void} undo */
export function afterPress(pressed, scan, undo) {
  return html`${deed({ says: 'Scan next', under: `${pressed.says}: saved`, press: scan })}
    <button class="outlined" @click=${undo}>Undo</button>`;
}
