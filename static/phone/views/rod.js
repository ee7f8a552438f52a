// Progress, drawn as a rod with notches that fill as the steps are done.

import { html } from '../../vendor/lit-html/lit-html.js';
import { rodInWords } from '../steps.js';

/** @param {readonly import('../steps.js').Notch[]} notches @param {{ends?: boolean}} [how]  ends: with words below */
export function rod(notches, { ends = false } = {}) {
  const next = notches.find((notch) => notch.next)?.step.name ?? '';
  return html`<div class="rod" role="img" aria-label=${rodInWords(notches)}>
      ${notches.map(
        ({ done, some, next: here }) => html`<i class="${done ? 'done' : ''} ${some ? 'some' : ''} ${here ? 'next' : ''}"></i>`,
      )}
    </div>
    ${ends && notches.length ? words(notches[0].step.name, next, notches[notches.length - 1].step.name) : ''}`;
}

/** @param {string} first @param {string} next @param {string} last */
function words(first, next, last) {
  return html`<div class="rod-ends" aria-hidden="true">
    ${next === first ? html`<b>${first}</b>` : html`<span>${first}</span>`}
    ${next && next !== first && next !== last ? html`<b>${next}</b>` : ''}
    ${next === last ? html`<b>${last}</b>` : html`<span>${last}</span>`}
  </div>`;
}
