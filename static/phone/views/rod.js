// Progress, drawn as a rod with notches that fill as the steps are done.

import { html } from '../../vendor/lit-html/lit-html.js';
import { rodInWords } from '../steps.js';

/** @param {readonly import('../steps.js').Notch[]} notches @param {{ends?: boolean}} [how]  ends: with words below */
export function rod(notches, { ends = false } = {}) {
  return html`<div class="rod" role="img" aria-label=${rodInWords(notches)}>
      ${notches.map(
        ({ done, some, next: here }) => html`<i class="${done ? 'done' : ''} ${some ? 'some' : ''} ${here ? 'next' : ''}"></i>`,
      )}
    </div>
    ${ends && notches.length ? words(notches) : ''}`;
}

const WIDE = 44; // letters of this size across a phone: near enough to put a word below its notch

/** The first step, the next one below its notch, the last: in a row, so that none runs into another.
 * @param {readonly import('../steps.js').Notch[]} notches */
function words(notches) {
  const names = notches.map(({ step }) => step.name);
  const first = names[0];
  const last = names[names.length - 1];
  const at = notches.findIndex((notch) => notch.next);
  const between = at > 0 && at < names.length - 1;
  const middle = ((at + 0.5) / names.length) * WIDE;
  const before = Math.max(0, middle - first.length - names[at]?.length / 2);
  const after = Math.max(0, WIDE - middle - last.length - names[at]?.length / 2);
  return html`<div class="rod-ends" aria-hidden="true">
    ${at === 0 ? html`<b>${first}</b>` : html`<span>${first}</span>`}
    ${between ? html`<i .style=${`flex-grow: ${before}`}></i><b>${names[at]}</b><i .style=${`flex-grow: ${after}`}></i>` : ''}
    ${at > 0 && !between ? html`<b>${last}</b>` : html`<span>${last}</span>`}
  </div>`;
}
