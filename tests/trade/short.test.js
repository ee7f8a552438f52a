// Where an error in the length lands, against the same vectors as in Python.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { after, doubt, landed, typedLength } from '../../static/trade/short.js';

const vectors = JSON.parse(readFileSync(new URL('../vectors/short.json', import.meta.url), 'utf8'));

for (const { name, end, short, says, spoiled } of vectors.ends) {
  test(name, () => {
    const found = after({ ...end, mates: [['2A', 'K7Q2MX']] }, short);
    assert.deepEqual(found, says && { says, spoiled, mates: [['2A', 'K7Q2MX']] });
  });
}

for (const { name, wanted, reading, unit, says } of vectors.doubts) {
  test(`asked about: ${name}`, () => assert.deepEqual(doubt(wanted, reading, unit), says));
}

const RAIL = { length: 100, marks: [{ at: 10 }, { at: 90 }] };

for (const [real, says] of /** @type {[number, (string | number)[]][]} */ ([
  [100, ['as drawn']],
  [101, ['at the far end ', 1, ' too long: cut it there']],
  [91, ['at the far end ', 9, ' short; every mark stays']],
  [90, ['at the far end ', 10, ' short; 1 mark beyond the wood']],
  [5, ['at the far end ', 95, ' short; 2 marks beyond the wood']],
])) {
  test(`a part of 100 that is ${real} long`, () => assert.deepEqual(landed(RAIL, real), { says, touched: [] }));
}

for (const [text, unit, nm] of /** @type {[string, 'in' | 'mm', number][]} */ ([
  ['14', 'in', 355_600_000],
  ['14 3/8', 'in', 365_125_000],
  ['  14   3/8 ', 'in', 365_125_000],
  ['3/8', 'in', 9_525_000],
  ['143/8', 'in', 454_025_000], // 17 7/8: never 14 3/8
  ['14.375', 'in', 365_125_000],
  ['365.5', 'mm', 365_500_000],
  ['365,5', 'mm', 365_500_000],
  ['0', 'in', 0],
  ['3/0', 'in', 0],
  ['0/0', 'in', 0],
  ['-3', 'in', 0],
  ['14 3/', 'in', 0],
  ['14.5 3/8', 'in', 0],
  ['', 'mm', 0],
  ['9'.repeat(40), 'in', 0],
])) {
  test(`typed at the bench: "${text}" ${unit}`, () => assert.equal(typedLength(text, unit), nm));
}
