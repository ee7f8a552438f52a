// The part sheet: the drawing is the hero; then sizes, what is to be settled, marks, mates; the next step at the thumb.

import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { show } from '../../trade/code.js';
import { called, handed } from '../pack.js';
import { disagreements, nextStep, refusal, rod as rodOf } from '../steps.js';
import { afterPress, dock, notice, stayHere, title, top } from './frame.js';
import { shortKeys, shortView } from './short.js';
import { length, moment, rod, said, sizes } from './signs.js';

/** @typedef {import('../pack.js').Writing} Writing */
/** @typedef {import('../../journal/fold.js').PartProgress} PartProgress */
/** Why nothing can be recorded here, or '' if it can.
 * @typedef {'' | 'join' | 'app'} Closed */
/** @typedef {{sheet: import('../store.js').PartSheet, progress: PartProgress, writing: Writing, picture: Node | null,
 *   look?: {step: import('../pack.js').Step, close: boolean},
 *   pressed: import('./frame.js').Pressed | null, closed: Closed, trouble: string, names: (device: string) => string,
 *   pill: import('./frame.js').Pill, real: import('./short.js').Real | null}} PartModel */
/** A press says on which part: what is seen is what is marked, whatever is being read meanwhile.  `says`: what can be
 * taken back then, '' if the thing pressed does that itself.
 * @typedef {{press(code: string, step: import('../pack.js').Step, done: boolean, says: string): void,
 *   undo(pressed: import('./frame.js').Pressed): void, goOn(): void, scan(): void, look(code: string, step: string): void, measure(real: import('./short.js').Real | null): void}} PartDeeds */

/** @param {PartModel} model @param {PartDeeds} deeds */
export function partView(model, deeds) {
  const { sheet, progress, writing, picture, pill, trouble } = model;
  const { part, stack, job } = sheet;
  const walked = { route: part.route, progress };
  const under = html`<span>${handed(part)} ·</span> <span>${part.nth[0]} of ${part.nth[1]}${/^[0-9]/.test(part.place) ? ' in its stack' : ''} ·</span>
    <span>${show(part.code)}</span>`;
  return html`${top(pill, stack ? html`<a class="way" href="/p/${stack.code}">Stack ${stack.number}</a>` : job.name)}
    <main class="sheet">
      <div class="paper">
        ${title(called(part), under, letters(part.letters))}
        ${drawn(picture, model.look, part.code, deeds)}
        <p class="sizes"><b>${sizes(part, writing)}</b>
          <span class="faint">${writing.unit === 'mm' ? 'mm' : 'inches'}${part.species ? ` · ${part.species}` : ''}</span></p>
        ${toSettle(model)} ${remarks(progress, writing)} ${part.note ? html`<p class="note">${part.note}</p>` : ''}
        ${mates(part.mates)} ${marks(part, writing)} ${shortView(part, writing, model.real, deeds)}
        <p class="faint foot">${job.name} · revision ${job.revision}</p>
      </div>
      <div class="foot-dock">
        ${notice(trouble ? html`<span class="here">Not saved:</span> ${trouble}` : '')}
        ${model.real
          ? shortKeys(writing, model.real, deeds)
          : dock({ rod: rod(rodOf(walked), { ends: true }), ...buttons(model, deeds, nextStep(walked)) })}
      </div>
    </main>`;
}

/** The drawing.  Where the next step has one of its own, a tap changes from the whole to that, and back.
 * @param {Node | null} picture @param {PartModel['look']} look @param {string} code @param {PartDeeds} deeds */
function drawn(picture, look, code, deeds) {
  if (!look) return html`<figure class="picture">${picture ?? nothing}</figure>`;
  const { step, close } = look;
  const turn = () => deeds.look(code, step.key);
  return html`<figure class="picture" @click=${turn}>${picture ?? nothing}</figure>
    <p class="look"><button class="outlined" @click=${turn}>${close ? 'The whole part' : `Only the next step: ${step.name}`}</button></p>`;
}

/** @param {PartModel} model @param {PartDeeds} deeds @param {import('../pack.js').Step | null} next */
function buttons({ sheet, progress, pressed, closed, writing }, deeds, next) {
  const code = sheet.part.code;
  const other = html`<a class="outlined" href="/p/${code}#steps">Other step</a>`;
  if (closed === 'app') return { main: null, other: '', idle: html`<p class="idle"><b>Read only.</b> Open the app and scan there.</p>` };
  if (closed === 'join') return { main: null, other: '', idle: html`<a class="deed" href="/phone/#join"><b>Join the shop</b><span>then steps can be marked</span></a>` };
  if (pressed) return { main: null, other: '', idle: afterPress(pressed, deeds), stay: next ? stayHere(next.done, deeds.goOn) : '' };
  if (!next) return { main: { says: 'Scan next', under: 'all steps done', press: deeds.scan }, other, idle: '' };
  const why = refusal(next, progress);
  if (why) return { main: null, other, idle: html`<p class="idle"><b class="here">Not now:</b> ${why}.</p>` };
  return {
    main: { says: next.done, under: said(next.detail, writing), press: () => deeds.press(code, next, true, next.done) },
    other,
    idle: '',
  };
}

/** The pair letters of a part: boxed while they are few, else in a row; the drawing shows which is where.
 * @param {readonly string[]} all */
export function letters(all) {
  if (!all.length) return '';
  return html`<p class="letters"><span class="spoken">Pair letters:</span>
    ${all.length > 3 ? html`<b>${all.join(' ')}</b>` : all.map((one) => html`<span class="letter">${one}</span> `)}</p>`;
}

/** What two phones say differently.  It is settled by pressing the step again, here or in the office.
 * @param {PartModel} model */
function toSettle({ sheet, progress, names }) {
  const steps = disagreements({ route: sheet.part.route, progress });
  if (!steps.length) return '';
  return html`<section class="settle">
    <h2 class="here">Two phones disagree</h2>
    ${steps.map(({ key, name }) => {
      const heads = progress.steps[key].heads;
      const sides = sheet.rows.filter(({ entry }) => heads.includes(entry.id));
      return html`<p><b>${name}:</b></p>
        <ul>
          ${sides.map(
            ({ entry }) =>
              html`<li>${names(entry.device)} says <b>${entry.kind === 'step_done' ? 'done' : 'not done'}</b>, ${moment(entry.at)}</li>`,
          )}
        </ul>`;
    })}
    <p><a class="way" href="/p/${sheet.part.code}#steps">Look at the part and say which</a></p>
  </section>`;
}

/** @param {PartProgress} progress @param {Writing} writing */
function remarks({ spoiled, held, notes, measured, unread }, writing) {
  return html`${spoiled.map(({ body }) => html`<p class="note"><b class="here">Spoiled:</b> ${body.reason}</p>`)}
  ${held.map(({ body }) => html`<p class="note"><b class="here">On hold:</b> ${body.reason}</p>`)}
  ${notes.map(({ body, at }) => html`<p class="note">${body.text} <span class="faint">${moment(at)}</span></p>`)}
  ${measured.map(
    ({ body, at }) =>
      html`<p class="note">${body.what}: measured <b>${Number.isSafeInteger(body.nm) ? length(body.nm, writing) : ''}</b>
          <span class="faint">${moment(at)}</span></p>`,
  )}
  ${unread ? html`<p class="note faint">${unread} more: needs a newer app</p>` : ''}`;
}

/** @param {readonly import('../pack.js').Mate[]} mates */
function mates(mates) {
  if (!mates.length) return '';
  return html`<section>
    <h2>Goes with</h2>
    <ul class="rows">
      ${mates.map(
        (mate) => html`<li>
          <a href="/p/${mate.code}"
            >${mate.letter ? html`<span class="letter">${mate.letter}</span>` : html`<span></span>`}
            <span><b>${called(mate)}</b><br /><span class="faint">${mate.says}</span></span></a
          >
        </li>`,
      )}
    </ul>
  </section>`;
}

/** Every mark as a number and a word, from the datum end: what the drawing shows, to read or to hear.
 * @param {import('../pack.js').Part} part @param {Writing} writing */
function marks({ marks, check, datum }, writing) {
  if (!marks.length) return '';
  return html`<section>
    <h2>Marks from the ${datum || 'datum end'}</h2>
    <dl class="marks">
      ${marks.map(({ at, says }) => html`<div><dt>${length(at, writing)}</dt><dd>${says}</dd></div>`)}
      <div class="faint"><dt>${length(check, writing)}</dt><dd>far end, a check</dd></div>
    </dl>
  </section>`;
}

/** "Other step": every step of a part, to mark or to take back.
 * @param {PartModel} model @param {PartDeeds} deeds */
export function stepsView({ sheet, progress, names, pill, trouble }, deeds) {
  const { part } = sheet;
  return html`${top(pill, html`<a class="way" href="/p/${part.code}">The sheet</a>`)}
    <main class="sheet">
      ${title(called(part), 'press a step to mark it, again to take it back')}
      ${notice(trouble ? html`<span class="here">Not saved:</span> ${trouble}` : '')}
      <div class="tiles">
        ${rodOf({ route: part.route, progress }).map(({ step, done, next }) => {
          const state = progress.steps[step.key];
          const under = state
            ? state.disagreement
              ? html`<span class="here">two say it differently</span>`
              : `${done ? '' : 'taken back, '}${names(state.by)}, ${moment(state.at)}`
            : '';
          const why = done ? '' : refusal(step, progress);
          return html`<button
            class="outlined tile ${done ? 'done' : ''} ${next ? 'next' : ''}"
            aria-pressed=${done}
            @click=${() => deeds.press(part.code, step, !done, '')}
          >
            <i class="box"></i><b>${step.name}</b>${under ? html`<small>${under}</small>` : ''}${why ? html`<small class="here">${why}</small>` : ''}
          </button>`;
        })}
      </div>
    </main>`;
}
