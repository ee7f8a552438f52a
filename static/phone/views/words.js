// Lengths, times and counts as they stand on the screen.

import { html } from '../../vendor/lit-html/lit-html.js';
import { partsOfInches, spoken, writeMm } from '../../trade/length.js';

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
