// The small pure modules: addresses, keys, entries, names.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';

import { enter, isKnown, newId, stepDraft } from '../../../static/phone/entry.js';
import { ALL_KEYS, EMPTY, LABEL_KEYS, press, rubOut, symbols } from '../../../static/phone/keys.js';
import { called, handed, writing } from '../../../static/phone/pack.js';
import { read, write } from '../../../static/phone/route.js';
import { patience } from '../../../static/phone/sync.js';
import { ALPHABET, codes } from '../../../static/trade/code.js';

const ADDRESSES = [
  ['/phone/', '', { screen: 'scan' }],
  ['/phone/', '#type', { screen: 'type' }],
  ['/phone/', '#outbox', { screen: 'outbox' }],
  ['/phone/', '#nonsense', { screen: 'scan' }],
  ['/p/K7Q2MX', '', { screen: 'sheet', code: 'K7Q2MX' }],
  ['/P/K7Q2MX', '', { screen: 'sheet', code: 'K7Q2MX' }],
  ['/p/K7Q2MX/', '#steps', { screen: 'steps', code: 'K7Q2MX' }],
  ['/p/%E0%A4%A', '', { screen: 'sheet', code: '%E0%A4%A' }],
];

for (const [pathname, hash, route] of ADDRESSES) {
  test(`the address ${pathname}${hash} is the screen ${JSON.stringify(route)}`, () => {
    assert.deepEqual(read({ pathname: String(pathname), hash: String(hash) }), route);
  });
}

test('an address that was written is read as the same screen', () => {
  for (const route of /** @type {import('../../../static/phone/route.js').Route[]} */ ([
    { screen: 'scan' },
    { screen: 'stacks' },
    { screen: 'sheet', code: 'K7Q2MX' },
    { screen: 'steps', code: 'a/b?c#d' },
  ])) {
    const { pathname, hash } = new URL(write(route), 'http://shop.invalid');
    assert.deepEqual(read({ pathname, hash }), route);
  }
});

test('every symbol that a label can carry is on the keys, once', () => {
  const used = new Set();
  let left = 3000;
  for (const [, code] of codes()) {
    for (const symbol of code) used.add(symbol);
    if (!(left -= 1)) break;
  }

  assert.deepEqual([...LABEL_KEYS.join('')].sort(), [...used].sort());
});

test('every symbol of the office\'s code is on its keys, once', () => {
  assert.deepEqual([...ALL_KEYS.join('')].sort(), [...ALPHABET].sort());
});

test('a group opens, a symbol is added, and the groups are back', () => {
  const opened = press(EMPTY, '2567', 6);
  const typed = press(opened, '6', 6);

  assert.deepEqual(opened, { typed: '', group: '2567' });
  assert.deepEqual(typed, { typed: '6', group: '' });
});

test('rubbing out leaves an open group first, then takes the last symbol', () => {
  assert.deepEqual(rubOut({ typed: 'K7', group: '2567' }), { typed: 'K7', group: '' });
  assert.deepEqual(rubOut({ typed: 'K7', group: '' }), { typed: 'K', group: '' });
  assert.deepEqual(rubOut(EMPTY), EMPTY);
});

test('no more is typed than a code has', () => {
  assert.equal(press({ typed: 'K7Q2MX', group: '' }, '5', 6).typed, 'K7Q2MX');
});

test('the phone\'s own keyboard is read as labels are: O is 0, I and L are 1, dashes go', () => {
  assert.equal(symbols('k7q-2mx', 6), 'K7Q2MX');
  assert.equal(symbols('ol i-u?ü', 6), '011');
});

test('an entry names its phone, counts on, and comes after all that was seen', () => {
  const writer = { device: 'd1', incarnation: 'i1', number: 4, hlc: /** @type {[number, number]} */ ([900, 2]) };
  const draft = { id: 'f'.repeat(32), kind: 'step_done', part: 'K7Q2MX', body: { step: 'mill' } };

  const made = enter(draft, writer, ['a'], 850);

  assert.deepEqual(made.entry, {
    id: 'f'.repeat(32), device: 'd1', incarnation: 'i1', number: 5, hlc: [900, 3], at: 850,
    kind: 'step_done', v: 1, part: 'K7Q2MX', base: ['a'], body: { step: 'mill' },
  });
  assert.deepEqual(made.writer, { device: 'd1', incarnation: 'i1', number: 5, hlc: [900, 3] });
  assert.equal(writer.number, 4);
});

test('ids are 32 hex digits, and no two are alike', () => {
  const ids = Array.from({ length: 100 }, newId);

  assert.ok(ids.every((id) => /^[0-9a-f]{32}$/.test(id)));
  assert.equal(new Set(ids).size, 100);
});

test('taking back is an entry of its own', () => {
  assert.equal(stepDraft('K7Q2MX', 'mill', false).kind, 'step_undone');
});

test('a kind or a version of the future is not known, and no fault', () => {
  const entry = enter(stepDraft('K7Q2MX', 'mill', true), { device: 'd', incarnation: 'i', number: 0, hlc: [0, 0] }, [], 1).entry;

  assert.ok(isKnown(entry));
  assert.ok(!isKnown({ ...entry, v: 2 }));
  assert.ok(!isKnown({ ...entry, kind: 'moved_to_mars' }));
});

/** @type {{name: string, place: string, called: string}[]} */
const NAMES = JSON.parse(readFileSync(new URL('../../vectors/called.json', import.meta.url), 'utf8'));

for (const { called: name, ...part } of NAMES) {
  test(`${JSON.stringify(part)} is called ${name}`, () => assert.equal(called(part), name));
}

test('the hand is said in words', () => {
  assert.equal(handed({ hand: 'as drawn', mirrors: '' }), 'as drawn');
  assert.equal(handed({ hand: 'mirror', mirrors: 'left' }), 'mirror image of the left');
  assert.equal(handed({ hand: 'mirror', mirrors: '' }), 'mirror image');
});

test('lengths are written as the job says until the phone is switched', () => {
  const job = { key: 'j', name: 'J', unit: /** @type {const} */ ('in'), denominator: 32, revision: 1, species: '' };

  assert.deepEqual(writing(job, ''), { unit: 'in', denominator: 32 });
  assert.deepEqual(writing(job, 'mm'), { unit: 'mm', denominator: 32 });
});

test('after failures the phone waits longer each time, never over five minutes, never in step with others', () => {
  assert.equal(patience(0, 0.9), 30_000);
  assert.equal(patience(1, 0), 4_000);
  assert.equal(patience(1, 1), 8_000);
  assert.equal(patience(2, 0.5), 12_000);
  assert.equal(patience(30, 1), 300_000);
});
