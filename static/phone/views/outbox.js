// What has not been handed over yet, and how this phone stands: the one screen about the phone itself.

import { html } from '../../vendor/lit-html/lit-html.js';
import { show } from '../../trade/code.js';
import { newVersion, notice, top } from './frame.js';
import { count, moment } from './signs.js';

/** @typedef {{pill: import('./frame.js').Pill, talk: import('../sync.js').Talk, sync: import('../store.js').SyncState,
 *   oldest: number, aside: import('../database.js').KeptRow[], unread: number,
 *   left: import('../database.js').LeftRow[], unit: '' | 'in' | 'mm',
 *   phone: import('../store.js').Phone | undefined, shell: import('../shell.js').Shell, app: string, persisted: boolean,
 *   installed: boolean, canInstall: boolean}} OutboxModel */
/** @typedef {{send(): void, save(): void, saveLeft(shop: string): void, setUnit(unit: '' | 'in' | 'mm'): void, useNew(): void, install(): void}} OutboxDeeds */

/** @param {OutboxModel} model @param {OutboxDeeds} deeds */
export function outboxView(model, deeds) {
  const { pill, talk, oldest, shell } = model;
  return html`${top(pill, '')}
    <main class="sheet outbox">
      <header class="title big">
        <h1 tabindex="-1">${pill.count ? html`<span class="key">${pill.count}</span> to send` : 'All sent'}</h1>
        ${pill.count ? html`<p class="faint">the oldest from ${moment(oldest)}; safe on this phone</p>` : ''}
      </header>
      ${notice(stand(model))} ${newVersion(shell.waiting, deeds.useNew)}
      <div class="deeds">
        ${pill.refused || !pill.joined
          ? html`<a class="deed" href="/phone/#join"><b>${pill.joined ? 'Join again' : 'Join the shop'}</b></a>`
          : html`<button class="deed" ?disabled=${talk.busy} @click=${deeds.send}><b>${talk.busy ? 'Sending' : 'Send now'}</b></button>`}
        <button class="outlined" @click=${deeds.save}>Save as<br />a file</button>
      </div>
      ${behind(model, deeds)} ${aside(model)}
      <section>
        <h2>Lengths in</h2>
        <div class="deeds three" role="group" aria-label="Lengths in">
          ${/** @type {const} */ ([['', 'as the job says'], ['in', 'inches'], ['mm', 'mm']]).map(
            ([unit, word]) => html`<button class="outlined tile" aria-pressed=${model.unit === unit} @click=${() => deeds.setUnit(unit)}>
              <i class="box"></i><b>${word}</b>
            </button>`,
          )}
        </div>
      </section>
      ${about(model, deeds)}
    </main>`;
}

/** One sentence: when the office last answered, and what is wrong.
 * @param {OutboxModel} model */
function stand({ sync, talk, pill }) {
  const last = sync.answered ? `The office last answered ${moment(sync.answered)}.` : 'The office has not answered yet.';
  if (!pill.joined) return 'This phone has not joined the shop.';
  if (pill.refused) {
    return html`<span class="here">The office does not know this phone any more.</span> Nothing is lost: join
      again. If it is the same shop, all of it is sent; if it is another one, it stays on this phone.`;
  }
  const clock =
    Math.abs(sync.offset) > 120_000
      ? html` <span class="here">This phone's clock is ${ahead(sync.offset)}.</span> Nothing is lost by it.`
      : '';
  const full = pill.tight
    ? html` <span class="here">This phone is nearly full.</span> Make room on it, or what you mark can soon not be kept.`
    : '';
  return html`${talk.trouble ? html`${talk.trouble} ` : ''}${last}${clock}${full}`;
}

/** @param {number} offset  milliseconds */
function ahead(offset) {
  const minutes = Math.round(Math.abs(offset) / 60_000);
  const much = minutes < 120 ? `${minutes} minutes` : minutes < 2880 ? `${Math.round(minutes / 60)} hours` : `${Math.round(minutes / 1440)} days`;
  return `${much} ${offset > 0 ? 'ahead' : 'behind'}`;
}

/** What was not sent to the shops that this phone was in before.
 * @param {OutboxModel} model @param {OutboxDeeds} deeds */
function behind({ left }, deeds) {
  return [...new Set(left.map(({ shop }) => shop))].map((shop) => {
    const own = left.filter((row) => row.shop === shop);
    return html`<section>
      <h2>From another shop</h2>
      <p>
        This phone was in <b>${own[0].of}</b> before, with <b>${own.length} to send</b>. All of it stays on this phone,
        and goes if it joins that shop again.
      </p>
      <div class="deeds three"><button class="outlined" @click=${() => deeds.saveLeft(shop)}>Save that as a file</button></div>
    </section>`;
  });
}

/** @param {OutboxModel} model */
function aside({ aside, unread }) {
  if (!aside.length && !unread) return '';
  return html`<section>
    <h2>To be looked at in the office</h2>
    ${unread ? html`<p>${count(unread, 'entry', 'entries')} from other phones: needs a newer app</p>` : ''}
    <ul class="plain-list">
      ${aside.map(({ entry, aside: why }) => html`<li><b>${entry.part ? show(entry.part) : entry.kind}</b>, ${moment(entry.at)}: ${why}</li>`)}
    </ul>
  </section>`;
}

/** @param {OutboxModel} model @param {OutboxDeeds} deeds */
function about({ phone, shell, app, persisted, installed, canInstall }, deeds) {
  const offline = shell.ready
    ? 'ready to work with no signal'
    : shell.trouble || (shell.missing.length ? `not ready for times without a signal: ${shell.missing[0]} is missing` : 'being fetched');
  return html`<section>
    <h2>This phone</h2>
    <dl class="facts">
      ${phone ? html`<div><dt>Name</dt><dd>${phone.name}</dd></div><div><dt>Shop</dt><dd>${phone.shop}</dd></div>` : ''}
      <div><dt>App</dt><dd>${app ? `version ${app}, ` : ''}${offline}</dd></div>
      <div><dt>Storage</dt><dd>${persisted ? 'kept for good' : 'may be cleared by the phone when it runs full'}</dd></div>
    </dl>
    ${installed
      ? ''
      : canInstall
        ? html`<button class="line-button" @click=${deeds.install}><b>Put it on the home screen</b></button>`
        : html`<p class="faint">Put it on the home screen from the browser's menu: there its storage lasts longest.</p>`}
  </section>`;
}
