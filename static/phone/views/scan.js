// The first screen: a label in the corners, or one of four big buttons.

import { html } from '../../vendor/lit-html/lit-html.js';
import { newVersion, notice, top } from './frame.js';

/** `video` comes a moment after the screen; `trouble` is one sentence why there is no picture; `light` is null where the phone has none.
 * @typedef {{video: HTMLVideoElement | undefined, trouble: string, says: string, light: {on: boolean, dim: boolean} | null,
 *   lenses: number, joining: boolean, waiting: boolean, pill: import('./frame.js').Pill}} ScanModel */
/** @typedef {{setLight(on: boolean): void, otherLens(): void, start(): void, picture(file: File): void, useNew(): void,
 *   type(): void, back(): void}} ScanDeeds */
/** Deeds `type` and `back` belong to joining: they say which screen of it comes. */

/** @param {ScanModel} model @param {ScanDeeds} deeds */
export function scanView({ video, trouble, says, light, lenses, joining, waiting, pill }, deeds) {
  return html`<div class="scan">
    ${top(pill, html`<b>Scan</b>`, { back: false })}
    <main>
      <h1 class="spoken" tabindex="-1">Scan</h1>
      <div class="camera" @click=${deeds.start}>
        ${video ?? ''}
        ${trouble
          ? html`<p class="why">${trouble}</p>`
          : html`<div class="corners" aria-hidden="true"><i></i><i></i><i></i><i></i></div>
              <p class="hold">${joining ? "Hold the office's code in the corners" : 'Hold a label in the corners'}</p>`}
        ${lenses > 1 && !trouble ? html`<button class="outlined lens" @click=${deeds.otherLens}>Other lens</button>` : ''}
        ${notice(says)}
      </div>
      <div class="deeds">
        ${newVersion(waiting, deeds.useNew)} ${light === null || trouble ? takePicture(deeds) : lightButton(light, deeds)}
        ${joining
          ? html`<a class="outlined" href="/phone/#join" @click=${deeds.type}>Type<br />the code</a>
              <a class="outlined" href="/phone/#join" @click=${deeds.back}>Back</a>`
          : html`<a class="outlined" href="/phone/#type">Type<br />the code</a>
              <a class="outlined" href="/phone/#stacks">Stacks</a>`}
        <a class="outlined" href="/phone/#outbox">Outbox</a>
      </div>
    </main>
  </div>`;
}

/** @param {{on: boolean, dim: boolean}} light @param {ScanDeeds} deeds */
function lightButton({ on, dim }, deeds) {
  return html`<button class="outlined" aria-pressed=${on} @click=${() => deeds.setLight(!on)}>
    ${on ? 'Light off' : 'Light'}${dim && !on ? html`<small class="here">it is dim here</small>` : ''}
  </button>`;
}

/** Where the camera gives no picture to us, the phone's own camera may.
 * @param {ScanDeeds} deeds */
function takePicture(deeds) {
  return html`<label class="outlined"
    >Take a<br />picture<input
      class="spoken"
      type="file"
      accept="image/*"
      capture="environment"
      @change=${(/** @type {Event} */ event) => {
        const input = /** @type {HTMLInputElement} */ (event.target);
        if (input.files?.[0]) deeds.picture(input.files[0]);
        input.value = '';
      }}
  /></label>`;
}
