// "Other step": every step of a part, to mark or to take back.

import { html } from '../../vendor/lit-html/lit-html.js';
import { called } from '../pack.js';
import { rod } from '../steps.js';
import { notice, title, top } from './frame.js';
import { moment } from './words.js';

/** @param {import('./part.js').PartModel} model @param {import('./part.js').PartDeeds} deeds */
export function stepsView({ sheet, progress, names, pill, trouble }, deeds) {
  const { part } = sheet;
  return html`${top(pill, html`<a class="way" href="/p/${part.code}">The sheet</a>`)}
    <main class="sheet">
      ${title(called(part), 'press a step to mark it, again to take it back')}
      ${notice(trouble ? html`<span class="here">Not saved:</span> ${trouble}` : '')}
      <div class="tiles">
        ${rod({ route: part.route, progress }).map(({ step, done, next }) => {
          const state = progress.steps[step.key];
          const under = state
            ? state.disagreement
              ? html`<span class="here">two say it differently</span>`
              : `${done ? '' : 'taken back, '}${names(state.by)}, ${moment(state.at)}`
            : '';
          return html`<button
            class="outlined tile ${done ? 'done' : ''} ${next ? 'next' : ''}"
            aria-pressed=${done}
            @click=${() => deeds.press(step, !done)}
          >
            <i class="box"></i><b>${step.name}</b>${under ? html`<small>${under}</small>` : ''}
          </button>`;
        })}
      </div>
    </main>`;
}
