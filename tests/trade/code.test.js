// The code on a label, against the vectors that Python reads, too.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import * as labels from '../../static/trade/code.js';

const vectors = JSON.parse(readFileSync(new URL('../vectors/codes.json', import.meta.url), 'utf8'));

test('the check symbol is frozen', () => {
  for (const [data, symbol] of vectors.checks) assert.equal(labels.check(data), symbol, data);
});

test('the code of a serial is frozen', () => {
  for (const [serial, six] of vectors.serials) {
    assert.equal(labels.code(serial), six, serial);
    assert.ok(labels.isCode(six), six);
  }
});

test('a serial out of range has no code', () => {
  for (const serial of [-1, labels.SERIALS, 1.5]) assert.throws(() => labels.code(serial), RangeError);
});

test('the codes given are frozen, from the first and from any serial', () => {
  const given = labels.codes();
  for (const row of vectors.given) assert.deepEqual(given.next().value, row);
  for (const [start, ...row] of vectors.given_from) assert.deepEqual(labels.codes(start).next().value, row);
});

test('what could be read as a word is not given', () => {
  for (const [six, nothing] of vectors.spells_nothing) assert.equal(labels.spellsNothing(six), nothing, six);
});

for (const [text, expected] of vectors.read) {
  test(`typed or scanned ${JSON.stringify(text).slice(0, 40)} is read or refused`, () => {
    if (labels.isCode(expected)) assert.equal(labels.readCode(text), expected);
    else assert.throws(() => labels.readCode(text), { name: 'UnreadableCode', code: expected });
  });
}

test('a refusal says where, what and what to do', () => {
  assert.throws(() => labels.readCode('K7Q2MY', 'Code'), {
    says: 'Code: K7Q-2MY does not check: one symbol is wrong, or two are swapped. Compare it with the label.',
  });
});

test('the payload is the address in capitals, or the code alone', () => {
  for (const [six, host, text] of vectors.payload) assert.equal(labels.payload(six, host), text);
  for (const host of ['shop local', 'shop_local', 'shop/p', 'shop:']) {
    assert.throws(() => labels.payload('K7Q2MX', host), TypeError);
  }
});

test('a code is shown in two halves', () => assert.equal(labels.show('K7Q2MX'), 'K7Q-2MX'));
