// The fold in JavaScript, against the same vectors as in Python.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { observe, tick } from '../../static/journal/clock.js';
import { heads, progress } from '../../static/journal/fold.js';

const vectors = JSON.parse(readFileSync(new URL('../vectors/fold.json', import.meta.url), 'utf8'));

for (const row of vectors) {
  test(row.name, () => {
    const made = Object.fromEntries(progress(row.rows));
    // Through JSON, so that own "__proto__" keys are compared as the keys they are.
    assert.deepEqual(sorted(made), sorted(row.progress));
  });
}

/** @param {unknown} value @returns {string} the same value, keys in order, as text */
function sorted(value) {
  if (Array.isArray(value)) return `[${value.map(sorted).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
    return `{${entries.map(([key, inner]) => `${JSON.stringify(key)}:${sorted(inner)}`).join(',')}}`;
  }
  return JSON.stringify(value);
}

test('heads of a step nobody wrote about are none, whatever its name', () => {
  assert.deepEqual(heads([], 'constructor'), []);
});

test('the clock goes on from what it has seen', () => {
  assert.deepEqual(tick([1000, 4], 2000), [2000, 0]);
  assert.deepEqual(tick([1000, 4], 900), [1000, 5]);
  assert.deepEqual(observe([1000, 4], [1000, 5]), [1000, 5]);
  assert.deepEqual(observe([1000, 4], [999, 9]), [1000, 4]);
});
