// Lengths and counts in JavaScript, against the vectors that Python reads, too.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import * as lengths from '../../static/trade/length.js';

/** @param {string} name */
const load = (name) => JSON.parse(readFileSync(new URL(`../vectors/${name}.json`, import.meta.url), 'utf8'));
const { cases, rows } = load('lengths');
const written = load('lengths_written');

/** What a message has to contain: the collection's words up to the first stop.
 * @param {string} told */
const keyWords = (told) => told.split(/[:;,]/)[0];

/** @param {() => unknown} call @returns {any} what it throws */
function thrown(call) {
  try {
    call();
  } catch (error) {
    return error;
  }
  return assert.fail('nothing was refused');
}

for (const { id, raw, column, row, outcome } of cases) {
  test(`case ${id} of the collection comes out as it must`, () => {
    const where = `row ${row}, ${column}`;
    const reading = () => (column === 'Qty' ? lengths.readCount(raw, where) : lengths.readSize(raw, 'in', column, where));
    if (outcome.kind === 'refuse') {
      const refused = thrown(reading);
      assert.equal(refused.code, outcome.code);
      for (const name of outcome.names) assert.ok(refused.says.includes(name), refused.says);
      assert.ok(refused.what.includes(keyWords(outcome.says)), refused.what);
      assert.ok(refused.do.includes(outcome.suggests ?? ''), refused.do);
    } else if (outcome.kind === 'count') {
      assert.deepEqual(reading(), { pieces: outcome.pieces, hands: outcome.hands ?? '' });
    } else {
      const made = /** @type {lengths.Reading} */ (reading());
      const [above, below = 1] = outcome.inches.split('/').map(Number);
      assert.equal(made.nm, Math.round((above * lengths.INCH) / below));
      if (outcome.reading) assert.equal(lengths.writeInches(made.nm, 64), outcome.reading);
      assert.equal(made.note, outcome.note ?? '');
      assert.ok(made.means.startsWith(outcome.means ?? 'size'), made.means);
      assert.equal(made.warnings.length > 0, 'warning' in outcome);
      assert.ok(made.warnings.join(' ').includes(keyWords(outcome.warning ?? '')), made.warnings.join(' '));
    }
  });
}

for (const [text, unit, column, expected] of rows) {
  test(`${JSON.stringify(text).slice(0, 50)} as ${column} in ${unit} is read exactly or refused by its code`, () => {
    if (typeof expected === 'number') assert.equal(lengths.readSize(text, unit, column).nm, expected);
    else assert.equal(thrown(() => lengths.readSize(text, unit, column)).code, expected);
  });
}

/** @type {Record<string, (nm: number, ...more: any[]) => string>} */
const writers = {
  write: lengths.write,
  write_inches: lengths.writeInches,
  write_mm: lengths.writeMm,
  write_decimal_inches: lengths.writeDecimalInches,
  write_feet_inches: lengths.writeFeetInches,
  write_exact: lengths.writeExact,
  spoken: lengths.spoken,
};

for (const [name, nm, ...more] of written.rows) {
  const text = more.pop();
  test(`${name} of ${nm} nm (${more.join(', ')}) is ${text}`, () => assert.equal(writers[name](nm, ...more), text));
}

for (const [nm, denominator, whole, num, den, mark] of written.parts) {
  test(`${nm} nm falls apart into ${whole}, ${num}/${den} ${mark}`, () => {
    assert.deepEqual(lengths.partsOfInches(nm, denominator), { whole, num, den, mark });
  });
}

test('a bare number takes the unit of the job', () => {
  assert.equal(lengths.read('19'), 19 * lengths.INCH);
  assert.equal(lengths.read('19', 'mm'), 19 * lengths.MM);
  assert.throws(() => lengths.read('19', 'cm'), TypeError);
});

test('what does not fit a whole number of JavaScript is refused', () => {
  assert.equal(lengths.read('9007199254.740991 mm'), Number.MAX_SAFE_INTEGER);
  assert.equal(thrown(() => lengths.read('9007199254.740992 mm')).code, 'too-long');
});

test('a pasted book is refused at once', () => {
  const started = performance.now();
  assert.equal(thrown(() => lengths.read('9'.repeat(10_000_000))).code, 'unreadable-length');
  assert.ok(performance.now() - started < 500);
});
