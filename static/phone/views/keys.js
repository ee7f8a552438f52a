// Big keys, and what has been typed so far.

import { html } from '../../vendor/lit-html/lit-html.js';

/** @param {{typing: import('../keys.js').Typing, size: number, label: string,
 *   groups: readonly string[]}} model
 * @param {{key(key: string): void, rubOut(): void, text(text: string): void}} deeds
 * @param {unknown} [between]  what stands between the field and the keys */
export function keysView({ typing: { typed, group }, size, label, groups }, deeds, between = '') {
  const keys = group ? [...group] : groups;
  return html`<div class="typed">
      <input
        aria-label=${label}
        autocomplete="off"
        autocapitalize="characters"
        spellcheck="false"
        enterkeyhint="go"
        placeholder=${'·'.repeat(size)}
        .value=${shown(typed, size)}
        @input=${(/** @type {Event} */ event) => deeds.text(/** @type {HTMLInputElement} */ (event.target).value)}
      />
      <button class="outlined" @click=${deeds.rubOut}>${group ? 'Back' : 'Rub out'}</button>
    </div>
    ${between}
    <div class="keys ${group ? 'four' : keys.length > 6 ? 'eight' : ''}" role="group" aria-label="Keys">
      ${keys.map(
        (key) => html`<button class="outlined" @click=${() => deeds.key(key)}>${[...key].join(' ')}</button>`,
      )}
    </div>`;
}

/** In two groups, as it stands on the label.
 * @param {string} typed @param {number} size */
function shown(typed, size) {
  const half = size / 2;
  return typed.length > half ? `${typed.slice(0, half)}-${typed.slice(half)}` : typed;
}
