// The stack sheet (the parts that lie together, how far each is, one press for all that are due), and the list of stacks.

import { html } from '../../vendor/lit-html/lit-html.js';
import { show } from '../../trade/code.js';
import { called } from '../pack.js';
import { due, rod as rodOf, stackRod, those } from '../steps.js';
import { afterPress, deed, dock, notice, stayHere, title, top } from './frame.js';
import { letters } from './part.js';
import { count, rod, sizes } from './signs.js';

/** @typedef {{part: import('../store.js').KeptPart, route: import('../pack.js').Step[],
 *   progress: import('../../journal/fold.js').PartProgress}} StackPart */
/** @typedef {{sheet: import('../store.js').StackSheet, parts: StackPart[], writing: import('../pack.js').Writing,
 *   pressed: import('./frame.js').Pressed | null, closed: import('./part.js').Closed, trouble: string,
 *   pill: import('./frame.js').Pill, picture: Node | null}} StackModel */
/** @typedef {{pressAll(code: string, step: import('../pack.js').Step, parts: StackPart[]): void,
 *   undo(pressed: import('./frame.js').Pressed): void, goOn(): void, scan(): void, open(code: string): void}} StackDeeds */

/** @param {StackModel} model @param {StackDeeds} deeds */
export function stackView(model, deeds) {
  const { sheet, parts, writing, pill, trouble } = model;
  const { stack, job } = sheet;
  return html`${top(pill, html`<a class="way" href="/phone/#stacks">Stacks</a>`)}
    <main class="sheet">
      <div class="paper">
        ${title(`${stack.number} ${stack.name}`, `${count(parts.length, 'part')} · ${show(stack.code)} · ${job.name}`)}
        ${model.picture ? html`<figure class="picture" @click=${(/** @type {Event} */ event) => pointed(event, deeds)}>${model.picture}</figure>` : ''}
        <ul class="rows parts">
          ${parts.map(
            (one) => html`<li>
              <a href="/p/${one.part.code}">
                <b class="name">${called(one.part)}</b>
                ${letters(one.part.letters)}
                <span class="faint">${show(one.part.code)} · ${sizes(one.part, writing)}</span>
                ${settle(one)} ${rod(rodOf(one))}
              </a>
            </li>`,
          )}
        </ul>
      </div>
      <div class="foot-dock">
        ${notice(trouble ? html`<span class="here">Not saved:</span> ${trouble}` : '')}
        ${dock({ rod: rod(stackRod(parts), { ends: true }), main: null, other: '', ...buttons(model, deeds) })}
      </div>
    </main>`;
}

/** A part of the picture, or its code, was pressed: open its sheet.
 * @param {Event} event @param {StackDeeds} deeds */
function pointed({ target }, deeds) {
  const part = target instanceof Element ? target.closest('[data-part]')?.getAttribute('data-part') : '';
  if (part) deeds.open(part);
}

/** @param {StackPart} part */
function settle({ progress }) {
  return Object.values(progress.steps).some(({ disagreement }) => disagreement)
    ? html`<span class="here">Two phones disagree</span>`
    : '';
}

/** @param {StackModel} model @param {StackDeeds} deeds @returns {{idle: unknown, stay?: unknown}} */
function buttons({ sheet, parts, pressed, closed }, deeds) {
  if (closed === 'app') return { idle: html`<p class="idle"><b>Read only.</b> Open the app and scan there.</p>` };
  if (closed === 'join') {
    return { idle: html`<a class="deed" href="/phone/#join"><b>Join the shop</b><span>then steps can be marked</span></a>` };
  }
  const [first, second] = due(parts);
  if (pressed) return { idle: afterPress(pressed, deeds), stay: first ? stayHere(first.step.done, deeds.goOn) : '' };
  if (!first) return { idle: deed({ says: 'Scan next', under: 'all steps done', press: deeds.scan }) };
  const press = (/** @type {typeof first} */ { step, parts }) => deeds.pressAll(sheet.stack.code, step, parts);
  return {
    idle: html`${deed({ says: first.step.done, under: those(first.parts.length, parts.length), press: () => press(first) })}
    ${second
      ? html`<button class="outlined" @click=${() => press(second)}>
          <b>${second.step.done}</b><small>${count(second.parts.length, 'part')}</small>
        </button>`
      : ''}`,
  };
}

// --- the list ---

/** @typedef {{jobs: {job: import('../store.js').KeptJob, stacks: import('../store.js').KeptStack[]}[],
 *   rods: Map<string, import('../steps.js').Notch[]>, pill: import('./frame.js').Pill}} StacksModel */

/** @param {StacksModel} model */
export function stacksView({ jobs, rods, pill }) {
  return html`${top(pill, '')}
    <main class="sheet">
      ${title('Stacks')} ${jobs.length ? '' : notice('No job is on this phone yet. It comes with the next answer of the office.')}
      ${jobs.map(
        ({ job, stacks }) => html`<section>
          <h2>${job.name} <span class="faint">${job.listed ? job.species : 'no longer in the office'}</span></h2>
          <ul class="rows stacks">
            ${stacks.map((stack) => {
              const notches = rods.get(stack.code);
              return html`<li>
                <a href="/p/${stack.code}"
                  ><span class="number">${stack.number}</span>
                  <span class="name"><b>${stack.name}</b> <span class="faint">${count(stack.parts.length, 'part')}</span></span>
                  ${notches ? rod(notches) : html`<div class="rod" aria-hidden="true"></div>`}</a
                >
              </li>`;
            })}
          </ul>
        </section>`,
      )}
    </main>`;
}
