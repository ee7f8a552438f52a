// "What if it came out short?": the real length, and where the error lands.  Works with no signal.
//
// The keys stand in the dock and what they do above it, so that every press is seen.

import { html } from '../../vendor/lit-html/lit-html.js';
import { doubt, landed, typedLength } from '../../trade/short.js';
import { writeInches, writeMm } from '../../trade/written.js';
import { called } from '../pack.js';
import { length, said } from './signs.js';

/** The real length of the part of this code; `sure` once it was asked about and said to be so; `step` is which of the
 * steps a key takes off or puts on; `wrong` is what was typed and is no length.
 * @typedef {{code: string, nm: number, sure: boolean, step: number, wrong?: string}} Real */
/** @typedef {{measure(real: Real | null): void}} ShortDeeds */

/** What a key takes off or puts on, nanometres: the first, then the next at each press of the key that changes it. */
const STEPS = { in: [1_587_500, 6_350_000, 25_400_000, 793_750], mm: [1_000_000, 5_000_000, 10_000_000, 500_000] };

/** @param {import('../pack.js').Part} part @param {import('../pack.js').Writing} writing @param {Real | null} real
 * @param {ShortDeeds} deeds */
export function shortView(part, writing, real, deeds) {
  if (!part.ends) return ''; // a pack of an older office
  if (!real) {
    const begin = { code: part.code, nm: part.length, sure: false, step: 0 };
    return html`<button class="line-button" @click=${() => deeds.measure(begin)}>What if it came out short?</button>`;
  }
  const { nm, wrong } = real;
  const asked = real.sure ? null : doubt(part.length, nm, writing.unit);
  /** @param {Event} event */
  const typed = ({ target }) => {
    const { value } = /** @type {HTMLInputElement} */ (target);
    const found = typedLength(value, writing.unit);
    deeds.measure(found ? { ...real, nm: found, sure: false, wrong: '' } : { ...real, wrong: value });
  };
  return html`<section class="short">
    <h2>If it is really</h2>
    <div class="typed">
      <input
        aria-label="Its real length, ${writing.unit === 'mm' ? 'mm' : 'inches'}"
        autocomplete="off"
        enterkeyhint="done"
        .value=${wrong || (writing.unit === 'mm' ? writeMm(nm) : writeInches(nm, 64))}
        @focus=${(/** @type {Event} */ event) => /** @type {HTMLInputElement} */ (event.target).select()}
        @change=${typed}
      />
    </div>
    <div role="status">
      ${wrong
        ? html`<p class="here">Write it like ${writing.unit === 'mm' ? '365.5' : '14 3/8'}</p>`
        : asked
          ? html`<p class="here">${said(asked, writing)}</p>`
          : lands(part, writing, nm)}
    </div>
    ${asked && !wrong
      ? html`<button class="line-button" @click=${() => deeds.measure({ ...real, sure: true })}>It is so</button>`
      : ''}
  </section>`;
}

/** The keys, in place of the steps: nobody marks one while measuring.
 * @param {import('../pack.js').Writing} writing @param {Real} real @param {ShortDeeds} deeds */
export function shortKeys(writing, real, deeds) {
  const steps = STEPS[writing.unit];
  const by = steps[real.step];
  const next = (real.step + 1) % steps.length;
  /** @param {number} nm */
  const size = (nm) => length(nm, { ...writing, denominator: 32 });
  /** @param {string} sign @param {number} nm */
  const key = (sign, nm) =>
    html`<button class="outlined" ?disabled=${nm <= 0} @click=${() => deeds.measure({ ...real, nm, sure: false, wrong: '' })}>
      <span>${sign} ${size(by)}</span>
    </button>`;
  return html`<footer class="dock tiles">
    ${key('−', real.nm - by)} ${key('+', real.nm + by)}
    <button class="outlined" @click=${() => deeds.measure({ ...real, step: next })}><span>Steps of ${size(steps[next])}</span></button>
    <button class="outlined" @click=${() => deeds.measure(null)}>Put it away</button>
  </footer>`;
}

/** @param {import('../pack.js').Part} part @param {import('../pack.js').Writing} writing @param {number} nm */
function lands(part, writing, nm) {
  const { says, touched } = landed(part, nm);
  const [first, ...rest] = says;
  const sentence = [`${first}`.charAt(0).toUpperCase() + `${first}`.slice(1), ...rest];
  return html`<p>${said(sentence, writing)}</p>
    ${touched.map(
      (one) => html`<p>
        ${one.mates.map(([letter, code], nth) => {
          const mate = part.mates.find((other) => other.code === code);
          return html`${letter ? html`<span class="letter">${letter}</span> ` : ''}${mate
            ? html`<b>${called(mate)}${nth < one.mates.length - 1 ? ',' : ':'}</b> `
            : ''}`;
        })}<span class=${one.spoiled ? 'here' : ''}>${said(one.says, writing)}</span>
      </p>`,
    )}`;
}
