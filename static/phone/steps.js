// How far along is it, and what comes next?  Routes and progress, made into rods and next steps.  Pure.

/** @typedef {import('./pack.js').Step} Step */
/** @typedef {import('../journal/fold.js').PartProgress} PartProgress */

/** A notch of a rod.  "some": done on some of a stack's parts.
 * @typedef {{step: Step, done: boolean, some: boolean, next: boolean}} Notch */
/** A part's route and what the journal says about it.
 * @typedef {{route: readonly Step[], progress: PartProgress}} Walked */

/** @param {PartProgress} progress @param {string} step */
export function isDone(progress, step) {
  return Object.hasOwn(progress.steps, step) && progress.steps[step].done;
}

/** The first step of the route that is not done, or null at its end.
 * @param {Walked} part @returns {Step | null} */
export function nextStep({ route, progress }) {
  return route.find((step) => !isDone(progress, step.key)) ?? null;
}

/** Why a step cannot be done now: one that is done has taken away what it is measured from.  '' if it can.
 * @param {Step} step @param {PartProgress} progress */
export function refusal({ not_after = {} }, progress) {
  return Object.entries(not_after).find(([key]) => isDone(progress, key))?.[1] ?? '';
}

/** The steps about which the floor says different things.
 * @param {Walked} part @returns {Step[]} */
export function disagreements({ route, progress }) {
  return route.filter(({ key }) => Object.hasOwn(progress.steps, key) && progress.steps[key].disagreement);
}

/** The rod of one part.
 * @param {Walked} part @returns {Notch[]} */
export function rod(part) {
  return stackRod([part]);
}

/** The rod of several parts together: every step of every route once.  A step is done when every part that has it has
 * done it; the next is the first that is not done.
 * @param {readonly Walked[]} parts @returns {Notch[]} */
export function stackRod(parts) {
  const steps = merged(parts.map(({ route }) => route));
  let awaited = false;
  return steps.map((step) => {
    const having = parts.filter(({ route }) => route.some(({ key }) => key === step.key));
    const count = having.filter(({ progress }) => isDone(progress, step.key)).length;
    const done = count === having.length;
    const next = !done && !awaited;
    if (next) awaited = true;
    return { step, done, some: !done && count > 0, next };
  });
}

/** Several routes as one, each step once, in an order that agrees with each of them as far as they agree.
 * @param {readonly (readonly Step[])[]} routes @returns {Step[]} */
function merged(routes) {
  /** @type {Step[]} */
  const all = [];
  for (const route of [...routes].sort((a, b) => b.length - a.length)) {
    let place = 0;
    for (const step of route) {
      const found = all.findIndex(({ key }) => key === step.key);
      if (found < 0) all.splice(place, 0, step);
      place = (found < 0 ? place : found) + 1;
    }
  }
  return all;
}

/** What is due in a stack: each next step with the parts that wait for it, in order of the route.
 * @template {Walked} T @param {readonly T[]} parts @returns {{step: Step, parts: T[]}[]} */
export function due(parts) {
  const order = merged(parts.map(({ route }) => route)).map(({ key }) => key);
  /** @type {Map<string, {step: Step, parts: T[]}>} */
  const waiting = new Map();
  for (const part of parts) {
    const step = nextStep(part);
    if (!step || refusal(step, part.progress)) continue;
    const group = waiting.get(step.key);
    if (group) group.parts.push(part);
    else waiting.set(step.key, { step, parts: [part] });
  }
  return [...waiting.values()].sort((a, b) => order.indexOf(a.step.key) - order.indexOf(b.step.key));
}

/** How many of a stack's parts a press is about.
 * @param {number} some @param {number} all */
export function those(some, all) {
  if (some === all) return all === 1 ? 'its only part' : `all ${all} parts`;
  return `the ${some === 1 ? 'one part' : `${some} parts`} where it is due`;
}

/** A rod in words, for those who cannot see it.
 * @param {readonly Notch[]} notches */
export function rodInWords(notches) {
  const done = notches.filter((notch) => notch.done).length;
  const next = notches.find((notch) => notch.next);
  return `${done} of ${notches.length} ${notches.length === 1 ? 'step' : 'steps'} done${next ? `, next: ${next.step.name}` : ''}`;
}
