// Which stacks are there?  Jobs and their stacks, with a rod each as soon as it is known.

import { html } from '../../vendor/lit-html/lit-html.js';
import { notice, title, top } from './frame.js';
import { rod } from './rod.js';
import { count } from './words.js';

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
