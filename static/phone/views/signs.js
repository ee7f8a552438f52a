// Lengths, times, counts and rods, as they stand on the screen.

import { html } from '../../vendor/lit-html/lit-html.js';
import { partsOfInches, spoken, writeMm } from '../../trade/written.js';
import { rodInWords } from '../steps.js';

/** A length, fractions set so that they never break, and read aloud as "3 and one quarter".
 * @param {number} nm @param {import('../pack.js').Writing} writing */
export function length(nm, { unit, denominator }) {
  const aloud = spoken(nm, unit, denominator);
  if (unit === 'mm') return html`<span class="length" role="img" aria-label=${aloud}>${writeMm(nm)}</span>`;
  const { whole, num, den, mark } = partsOfInches(nm, denominator);
  const fraction = num
    ? html`<span class="frac"><span class="num">${num}</span><span class="slash">⁄</span><span class="den">${den}</span></span>`
    : '';
  const shown = whole || !num ? html`${whole}${fraction}` : fraction;
  return html`<span class="length" role="img" aria-label=${aloud}
    ><span aria-hidden="true">${shown}${mark ? html` <small>${mark}</small>` : ''}</span></span
  >`;
}

/** Thickness × width × length.
 * @param {{thickness: number, width: number, length: number}} part @param {import('../pack.js').Writing} writing */
export function sizes(part, writing) {
  return html`${length(part.thickness, writing)} × ${length(part.width, writing)} × ${length(part.length, writing)}`;
}

/** @param {import('../pack.js').Said} text @param {import('../pack.js').Writing} writing */
export function said(text, writing) {
  return text.map((piece) => (typeof piece === 'number' ? length(piece, writing) : piece));
}

/** "14:05" today, "Tue 14:05" in the week before, else the day.
 * @param {number} at  milliseconds @param {number} [now] */
export function moment(at, now = Date.now()) {
  const then = new Date(at);
  const time = then.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  if (then.toDateString() === new Date(now).toDateString()) return time;
  if (Math.abs(now - at) < 6 * 86_400_000) return `${then.toLocaleDateString('en-GB', { weekday: 'short' })} ${time}`;
  return then.toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
}

/** @param {number} number @param {string} one @param {string} [many] */
export function count(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}

/** Progress, drawn as a rod with notches that fill as the steps are done.
 * @param {readonly import('../steps.js').Notch[]} notches @param {{ends?: boolean}} [how]  ends: with words below */
export function rod(notches, { ends = false } = {}) {
  return html`<div class="rod" role="img" aria-label=${rodInWords(notches)}>
      ${notches.map(
        ({ done, some, next: here }) => html`<i class="${done ? 'done' : ''} ${some ? 'some' : ''} ${here ? 'next' : ''}"></i>`,
      )}
    </div>
    ${ends && notches.length ? rodWords(notches) : ''}`;
}

const WIDE = 44; // letters of this size across a phone: near enough to put a word below its notch

/** The first step, the next one below its notch, the last: in a row, so that none runs into another.
 * @param {readonly import('../steps.js').Notch[]} notches */
function rodWords(notches) {
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
