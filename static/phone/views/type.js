// Type the code of a label; as soon as few parts are left, they are offered by name.

import { html } from '../../vendor/lit-html/lit-html.js';
import { show } from '../../trade/code.js';
import { LABEL_KEYS } from '../keys.js';
import { called } from '../pack.js';
import { notice, title, top } from './frame.js';

/** @typedef {{typing: import('../keys.js').Typing, found: (import('../store.js').KeptPart | import('../store.js').KeptStack)[],
 *   says: string, pill: import('./frame.js').Pill}} TypeModel */

/** @param {TypeModel} model @param {Parameters<typeof keysView>[1]} deeds */
export function typeView({ typing, found, says, pill }, deeds) {
  return html`${top(pill, '')}
    <main class="sheet type">
      ${title('Type the code')} ${notice(says ? html`<span class="here">${says}</span>` : '')}
      ${keysView(
        { typing, size: 6, label: 'Code', groups: LABEL_KEYS },
        deeds,
        found.length
          ? html`<h2 class="spoken">Is it this one?</h2>
              <ul class="rows found">
                ${found.map((one) => html`<li><a href="/p/${one.code}"><b>${nameOf(one)}</b> <span class="faint">${show(one.code)}</span></a></li>`)}
              </ul>`
          : '',
      )}
    </main>`;
}

/** @param {import('../store.js').KeptPart | import('../store.js').KeptStack} one */
function nameOf(one) {
  return 'parts' in one ? `Stack ${one.number} ${one.name}` : called(one);
}

/** No job on this phone has this code; `gone`: one had it before.
 * @param {{code: string, says: string, slip?: boolean, gone?: Awaited<ReturnType<import('../store.js').Store['gone']>>,
 *   pill: import('./frame.js').Pill}} model @param {() => void} scan */
export function unknownView({ code, says, slip, gone, pill }, scan) {
  if (!pill.joined) return notJoinedView({ code, pill });
  const why = gone
    ? html`<p class="lead"><b>No longer in this job since revision ${gone.gone.since}</b></p>
        <p>${gone.job?.name}: <b>${called(gone.gone)}</b>. Ask the office before you go on with this piece.</p>`
    : html`<p class="lead"><b>${says}</b></p>
        <p ?hidden=${slip}>
          It may belong to a job that this phone has not fetched: it comes with the next answer of the office. Or it is
          the label of another shop.
        </p>`;
  return html`${top(pill, '')}
    <main class="sheet">
      ${title(code)} ${why}
      <div class="foot-dock"><footer class="dock"><div class="deeds"><button class="deed" @click=${scan}><b>Scan next</b></button>
        <a class="outlined" href="/phone/#type">Type<br />the code</a></div></footer></div>
    </main>`;
}

/** A label, read by a phone that has no packs because it has not joined.
 * @param {{code: string, pill: import('./frame.js').Pill}} model */
function notJoinedView({ code, pill }) {
  return html`${top(pill, '', { back: false })}
    <main class="sheet">
      ${title(code)}
      <p class="lead"><b>This is a part's label: this phone has to join the shop first, then it shows the sheet.</b></p>
      <div class="foot-dock"><footer class="dock"><div class="deeds">
        <a class="deed" href="/phone/#join"><b>Join the shop</b></a>
      </div></footer></div>
    </main>`;
}

/** Big keys, and what has been typed so far.
 * @param {{typing: import('../keys.js').Typing, size: number, label: string,
 *   groups: readonly string[]}} model
 * @param {{key(key: string): void, rubOut(): void, text(text: string): void}} deeds
 * @param {unknown} [between]  what stands between the field and the keys */
export function keysView({ typing: { typed, group }, size, label, groups }, deeds, between = '') {
  const keys = group ? [...group] : groups;
  return html`<div class="typed ${size > 6 ? 'long' : ''}">
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
