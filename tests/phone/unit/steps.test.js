import assert from 'node:assert/strict';
import { test } from 'node:test';

import { disagreements, due, nextStep, refusal, rod, rodInWords, stackRod, those } from '../../../static/phone/steps.js';

/** @param {string[]} keys */
const route = (...keys) => keys.map((key) => ({ key, name: key, done: `${key} done`, detail: [] }));

/** @param {string[]} done @param {string[]} [disputed] */
const progress = (done, disputed = []) => ({
  steps: Object.fromEntries(
    done.map((key) => [key, { done: true, by: 'a', at: 1, heads: ['x'], disagreement: disputed.includes(key) }]),
  ),
  notes: [],
  measured: [],
  held: [],
  spoiled: [],
  unread: 0,
});

/** Notches as letters: D done, S some, N next, n next and some, - empty.
 * @param {import('../../../static/phone/steps.js').Notch[]} notches */
const drawn = (notches) =>
  notches.map(({ done, some, next }) => (done ? 'D' : next ? (some ? 'n' : 'N') : some ? 'S' : '-')).join('');

test('the next step is the first that is not done, even after a later one was marked', () => {
  const part = { route: route('rough', 'mill', 'length'), progress: progress(['rough', 'length']) };

  assert.equal(nextStep(part)?.key, 'mill');
  assert.equal(drawn(rod(part)), 'DND');
});

test('at the end of the route nothing is next', () => {
  const part = { route: route('rough', 'mill'), progress: progress(['rough', 'mill']) };

  assert.equal(nextStep(part), null);
  assert.equal(rodInWords(rod(part)), '2 of 2 steps done');
});

test('a rod of one step is said so', () => {
  assert.equal(rodInWords(rod({ route: route('rough'), progress: progress([]) })), '0 of 1 step done, next: rough');
});

for (const [some, all, says] of /** @type {const} */ ([
  [1, 1, 'its only part'],
  [5, 5, 'all 5 parts'],
  [1, 5, 'the one part where it is due'],
  [4, 5, 'the 4 parts where it is due'],
])) {
  test(`a press about ${some} of ${all} parts says "${says}"`, () => assert.equal(those(some, all), says));
}

test('a step that was taken back counts as not done', () => {
  const part = { route: route('rough', 'mill'), progress: progress(['rough']) };
  part.progress.steps.rough.done = false;

  assert.equal(nextStep(part)?.key, 'rough');
});

test('a step named like something every object has is not done by that', () => {
  const part = { route: route('constructor', 'toString'), progress: progress([]) };

  assert.equal(nextStep(part)?.key, 'constructor');
});

test('the rod of a stack fills a notch when all parts that have the step have done it', () => {
  const leg = { route: route('rough', 'mill', 'mortise', 'glue'), progress: progress(['rough', 'mill']) };
  const rail = { route: route('rough', 'mill', 'tenon', 'glue'), progress: progress(['rough']) };

  const notches = stackRod([leg, rail]);

  assert.deepEqual(notches.map(({ step }) => step.key).sort(), ['glue', 'mill', 'mortise', 'rough', 'tenon']);
  assert.equal(notches[0].step.key, 'rough');
  assert.equal(notches[4].step.key, 'glue');
  assert.equal(drawn(notches), 'Dn---');
  assert.equal(rodInWords(notches), '1 of 5 steps done, next: mill');
});

test('each route keeps its own order in the rod of a stack', () => {
  const panel = { route: route('rough', 'mill', 'tongue', 'finish', 'glue'), progress: progress([]) };
  const rail = { route: route('rough', 'mill', 'groove', 'fit', 'glue'), progress: progress([]) };

  const keys = stackRod([rail, panel]).map(({ step }) => step.key);

  for (const { route: own } of [panel, rail]) {
    const places = own.map(({ key }) => keys.indexOf(key));
    assert.deepEqual(places, [...places].sort((a, b) => a - b));
  }
});

test('what is due comes in the order of the route, with the parts that wait for it', () => {
  const parts = [
    { name: 'a', route: route('rough', 'mill'), progress: progress(['rough']) },
    { name: 'b', route: route('rough', 'mill'), progress: progress([]) },
    { name: 'c', route: route('rough', 'mill'), progress: progress(['rough', 'mill']) },
    { name: 'd', route: route('rough', 'mill'), progress: progress(['rough']) },
  ];

  const found = due(parts).map(({ step, parts: waiting }) => [step.key, waiting.map(({ name }) => name)]);

  assert.deepEqual(found, [['rough', ['b']], ['mill', ['a', 'd']]]);
});

test('an empty stack has an empty rod and nothing due', () => {
  assert.deepEqual(stackRod([]), []);
  assert.deepEqual(due([]), []);
});

test('disagreements are found by step', () => {
  const part = { route: route('rough', 'mill'), progress: progress(['rough', 'mill'], ['mill']) };

  assert.deepEqual(disagreements(part).map(({ key }) => key), ['mill']);
});

test('a step is refused once another has taken away what it is measured from, and is due no more', () => {
  const why = 'the mortise is measured from the face edge, and the taper has taken that away';
  const [mortise, taper] = route('mortise', 'taper');
  const own = [{ ...mortise, not_after: { taper: why } }, taper];
  const cut = { route: own, progress: progress(['taper']) };
  const plain = { route: own, progress: progress([]) };

  assert.equal(refusal(own[0], cut.progress), why);
  assert.equal(refusal(own[0], plain.progress), '');
  assert.equal(refusal(taper, cut.progress), '');
  assert.deepEqual(due([cut, plain]), [{ step: own[0], parts: [plain] }]);
});
