// A phone joins the shop: the office's one-time code, and what the phone is called.

import { html } from '../../vendor/lit-html/lit-html.js';
import { ALL_KEYS } from '../keys.js';
import { notice, title, top } from './frame.js';
import { keysView } from './type.js';

/** `step`: 'how' is the first, then 'type' or a scan, then 'name'.  `shop`: the shop that this phone has joined and is not
 * to leave; `again`: the office does not know it any more; `waiting`: entries that wait for it.  `home`: whether the app
 * can be put on the home screen by a question of ours, or by the browser's menu, or is there already.
 * @typedef {{step: 'how' | 'type' | 'name', typing: import('../keys.js').Typing, name: string, says: string,
 *   busy: boolean, shop: string, again: boolean, waiting: number, home: '' | 'ask' | 'say',
 *   pill: import('./frame.js').Pill}} JoinModel */
/** @typedef {{scan(): void, type(): void, name(name: string): void, join(): void, back(): void, other(): void,
 *   install(): void, keys: Parameters<typeof keysView>[1]}} JoinDeeds */

/** @param {JoinModel} model @param {JoinDeeds} deeds */
export function joinView(model, deeds) {
  const { step, typing, says, shop, again, waiting, pill } = model;
  const trouble = notice(says ? html`<span class="here">${says}</span>` : '');
  if (shop) return joinedView(model, deeds);
  if (step === 'type') {
    const ways = html`<button class="way" @click=${deeds.back}>Back</button> <button class="way" @click=${deeds.scan}>Scan</button>`;
    return html`${top(pill, ways, { back: false })}
      <main class="sheet type">
        ${title("The office's code")} ${trouble} ${keysView({ typing, size: 8, label: "The office's code", groups: ALL_KEYS }, deeds.keys)}
      </main>`;
  }
  if (step === 'name') return nameView(model, deeds, trouble);
  const nothingLost = `Nothing is lost: the ${waiting} to send ${waiting === 1 ? 'goes' : 'go'} as soon as it has joined the same shop again.`;
  return html`${top(pill, pill.joined ? html`<a class="way" href="/phone/">Scan</a>` : '', { back: false })}
    <main class="sheet">
      ${title(again ? 'Join again' : 'Join the shop')}
      ${again ? html`<p class="lead">The office does not know this phone any more. ${waiting ? nothingLost : ''}</p>` : ''}
      ${homeScreen(model, deeds)}
      <ol class="how">
        <li>In the office, press <b>Add a phone</b>.</li>
        <li>Scan the code it shows, or type it here.</li>
        <li>Give this phone a name.</li>
      </ol>
      ${trouble}
      <div class="foot-dock">
        <footer class="dock">
          <div class="deeds">
            <button class="deed" @click=${deeds.scan}><b>Scan the code</b></button>
            <button class="outlined" @click=${deeds.type}>Type<br />the code</button>
          </div>
        </footer>
      </div>
    </main>`;
}

/** Nothing is to be done here.
 * @param {JoinModel} model @param {JoinDeeds} deeds */
function joinedView({ shop, pill }, deeds) {
  return html`${top(pill, '')}
    <main class="sheet">
      ${title('This phone has joined', shop)}
      <p class="lead">Hold a label before the camera, and its sheet comes.</p>
      <div class="foot-dock">
        <footer class="dock">
          <div class="deeds">
            <a class="deed" href="/phone/"><b>Scan</b></a>
            <button class="outlined" @click=${deeds.other}>Other<br />code</button>
          </div>
        </footer>
      </div>
    </main>`;
}

/** Before a phone joins it is put on the home screen: there it opens with no signal, and its storage lasts longest.
 * @param {JoinModel} model @param {JoinDeeds} deeds */
function homeScreen({ home }, { install }) {
  if (!home) return '';
  return home === 'ask'
    ? html`<button class="line-button" @click=${install}><b>First put it on the home screen</b>, and join in the app</button>`
    : html`<p class="lead">First put Facemark on the home screen, from the browser's menu, and join in there: it keeps what you mark.</p>`;
}

/** @param {JoinModel} model @param {JoinDeeds} deeds @param {unknown} trouble */
function nameView({ name, busy, typing, pill }, deeds, trouble) {
  return html`${top(pill, '', { back: false })}
    <main class="sheet">
      ${title('Name this phone', `the office's code is ${typing.typed.slice(0, 4)}-${typing.typed.slice(4)}`)}
      <form
        @submit=${(/** @type {Event} */ event) => {
          event.preventDefault();
          deeds.join();
        }}
      >
        <label class="field"
          >What people will read when this phone has marked a step
          <input
            name="name"
            maxlength="40"
            autocomplete="off"
            .value=${name}
            @input=${(/** @type {Event} */ event) => deeds.name(/** @type {HTMLInputElement} */ (event.target).value)}
        /></label>
        ${trouble}
        <div class="foot-dock">
          <footer class="dock">
            <div class="deeds">
              <button class="deed" type="submit" ?disabled=${busy}><b>${busy ? 'Joining' : 'Join'}</b></button>
              <button class="outlined" type="button" @click=${deeds.back}>Other code</button>
            </div>
          </footer>
        </div>
      </form>
    </main>`;
}

/** On iOS a browser tab has a storage of its own, which is thrown away after a week: nothing is recorded there. */
export function addToHomeScreenView() {
  return html`<main class="sheet">
    ${title('Put Facemark on the home screen')}
    <p class="lead">In a browser tab this phone would forget what you mark. So it only records as an app.</p>
    <ol class="how">
      <li>Press <b>Share</b>, the square with the arrow.</li>
      <li>Press <b>Add to Home Screen</b>, then <b>Add</b>.</li>
      <li>Open <b>Facemark</b> from the home screen, and join the shop in there.</li>
    </ol>
  </main>`;
}
