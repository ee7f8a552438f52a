// "What if it came out short?": the real length, and where the error lands.  Works with no signal.

import { html } from '../../vendor/lit-html/lit-html.js';
import { doubt, landed } from '../../trade/short.js';
import { called } from '../pack.js';
import { length, said } from './signs.js';

/** The real length of the part of this code; `sure` once it was asked about and said to be so.
 * @typedef {{code: string, nm: number, sure: boolean}} Real */
/** @typedef {{measure(real: Real | null): void}} ShortDeeds */

/** What each key takes off or puts on, nanometres. */
const KEYS = { in: [-3_175_000, -1_587_500, -793_750, 793_750], mm: [-5_000_000, -1_000_000, -500_000, 500_000] };

/** @param {import('../pack.js').Part} part @param {import('../pack.js').Writing} writing @param {Real | null} real
 * @param {ShortDeeds} deeds */
export function shortView(part, writing, real, deeds) {
  if (!part.ends) return ''; // a pack of an older office
  const { code } = part;
  if (!real) {
    return html`<button class="line-button" @click=${() => deeds.measure({ code, nm: part.length, sure: false })}>
      What if it came out short?
    </button>`;
  }
  const asked = real.sure ? null : doubt(part.length, real.nm, writing.unit);
  return html`<section class="short">
    <h2>If it is really <b>${length(real.nm, writing)}</b></h2>
    <div class="tiles">
      ${KEYS[writing.unit].map(
        (by) => html`<button
          class="outlined"
          ?disabled=${real.nm + by <= 0}
          @click=${() => deeds.measure({ ...real, nm: real.nm + by })}
        >
          ${by < 0 ? '−' : '+'}${length(Math.abs(by), { ...writing, denominator: 32 })}
        </button>`,
      )}
    </div>
    ${asked
      ? html`<p class="here" role="status">${said(asked, writing)}</p>
          <button class="line-button" @click=${() => deeds.measure({ ...real, sure: true })}>It is so</button>`
      : lands(part, writing, real.nm)}
    <button class="line-button" @click=${() => deeds.measure(null)}>Put it away</button>
  </section>`;
}

/** @param {import('../pack.js').Part} part @param {import('../pack.js').Writing} writing @param {number} nm */
function lands(part, writing, nm) {
  const { says, touched } = landed(part, nm);
  const [first, ...rest] = says;
  const sentence = [`${first}`.charAt(0).toUpperCase() + `${first}`.slice(1), ...rest];
  return html`<p role="status">${said(sentence, writing)}</p>
    ${touched.map((one) => {
      const mate = part.mates.find(({ code }) => code === one.mate);
      return html`<p>
        ${one.letter ? html`<span class="letter">${one.letter}</span> ` : ''}${mate ? html`<b>${called(mate)}:</b> ` : ''}
        <span class=${one.spoiled ? 'here' : ''}>${said(one.says, writing)}</span>
      </p>`;
    })}`;
}
