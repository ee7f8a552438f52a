// How far is each part?  Progress is a fold of the journal; twin of shopfloor/journal/fold.py, where the rules of
// merging are explained.  Both are bound by tests/vectors/fold.json.

/** One line of the journal, as it was written.
 * @typedef {{id: string, device: string, incarnation: string, number: number, hlc: [number, number], at: number,
 *   kind: string, v: number, part: string, base: string[], body: Record<string, any>}} Entry */

/** An entry as it is passed on; one that is not acknowledged yet has no rev, and its clock is its hlc.
 * @typedef {{rev?: number, clock: [number, number], entry: Entry}} Row */

/** @typedef {{done: boolean, by: string, at: number, heads: string[], disagreement: boolean}} StepState */
/** @typedef {{id: string, by: string, at: number, body: Record<string, any>}} Remark */
/** @typedef {{steps: Record<string, StepState>, notes: Remark[], measured: Remark[], held: Remark[],
 *   spoiled: Remark[], unread: number}} PartProgress */

/** Text is compared by code point, as Python does: `<` on strings compares UTF-16 units, which differ above U+FFFF.
 * @param {string} a @param {string} b */
function byCodePoint(a, b) {
  if (a === b) return 0;
  const left = Array.from(a);
  const right = Array.from(b);
  for (let i = 0; i < Math.min(left.length, right.length); i += 1) {
    if (left[i] !== right[i]) {
      return /** @type {number} */ (left[i].codePointAt(0)) - /** @type {number} */ (right[i].codePointAt(0));
    }
  }
  return left.length - right.length;
}

/** The one order that everybody agrees on.
 * @param {Row} a @param {Row} b */
export function order(a, b) {
  return (
    a.clock[0] - b.clock[0] ||
    a.clock[1] - b.clock[1] ||
    byCodePoint(a.entry.device, b.entry.device) ||
    byCodePoint(a.entry.incarnation, b.entry.incarnation) ||
    a.entry.number - b.entry.number ||
    byCodePoint(a.entry.id, b.entry.id)
  );
}

/** Fold rows into the progress of each part, by code.  Order and repeats of the rows change nothing.
 * @param {Iterable<Row>} rows @returns {Map<string, PartProgress>} */
export function progress(rows) {
  /** @type {Map<string, Row[]>} */
  const byPart = new Map();
  for (const row of rows) {
    const { part } = row.entry;
    if (!part) continue;
    const own = byPart.get(part);
    if (own) own.push(row);
    else byPart.set(part, [row]);
  }
  return new Map([...byPart].map(([part, own]) => [part, fold(own)]));
}

/** Fold the rows of one part, each entry given once or more.
 * @param {Iterable<Row>} rows @returns {PartProgress} */
export function fold(rows) {
  /** @type {PartProgress} */
  const result = { steps: {}, notes: [], measured: [], held: [], spoiled: [], unread: 0 };
  /** @type {Map<string, Row[]>} */
  const registers = new Map();
  /** @type {Set<string>} */
  const lifted = new Set();
  /** @type {Map<string, Remark[]>} */
  const remarks = new Map([
    ['noted', result.notes],
    ['measured', result.measured],
    ['held', result.held],
    ['spoiled', result.spoiled],
  ]);
  for (const row of unique(rows)) {
    const { id, device, at, kind, v, body } = row.entry;
    const list = v === 1 ? remarks.get(kind) : undefined;
    if (v === 1 && (kind === 'step_done' || kind === 'step_undone') && typeof body.step === 'string') {
      const own = registers.get(body.step);
      if (own) own.push(row);
      else registers.set(body.step, [row]);
    } else if (list) {
      list.push({ id, by: device, at, body });
    } else if (v === 1 && kind === 'lifted' && Array.isArray(body.lifts)) {
      for (const name of body.lifts) if (typeof name === 'string') lifted.add(name);
    } else {
      result.unread += 1;
    }
  }
  result.held = result.held.filter((remark) => !lifted.has(remark.id));
  result.spoiled = result.spoiled.filter((remark) => !lifted.has(remark.id));
  result.steps = Object.fromEntries([...registers].map(([step, own]) => [step, register(own)]));
  return result;
}

/** What a new entry about `step` names as its base: the entries that nobody has replaced yet.
 * @param {Iterable<Row>} rows @param {string} step @returns {string[]} */
export function heads(rows, step) {
  const { steps } = fold(rows);
  return Object.hasOwn(steps, step) ? steps[step].heads : [];
}

/** Of one register's rows, in order, those that nobody has replaced: its heads, the last of which is its value.
 * @param {Row[]} rows @returns {Row[]} */
export function standing(rows) {
  const replaced = new Set(rows.flatMap(({ entry }) => entry.base.filter((seen) => seen !== entry.id)));
  const heads = rows.filter(({ entry }) => !replaced.has(entry.id));
  return heads.length ? heads : rows;
}

/** Rows in order, each entry once.
 * @param {Iterable<Row>} rows @returns {Row[]} */
export function unique(rows) {
  /** @type {Map<string, Row>} */
  const found = new Map();
  for (const row of rows) {
    const known = found.get(row.entry.id);
    // The same entry may come twice, with its own clock and with the server's clamped one: the clamped one counts.
    if (!known || row.clock[0] < known.clock[0] || (row.clock[0] === known.clock[0] && row.clock[1] < known.clock[1])) {
      found.set(row.entry.id, row);
    }
  }
  return [...found.values()].sort(order);
}

/** The state of one register; rows are in order.
 * @param {Row[]} rows @returns {StepState} */
function register(rows) {
  const heads = standing(rows);
  const last = heads[heads.length - 1].entry;
  return {
    done: last.kind === 'step_done',
    by: last.device,
    at: last.at,
    heads: heads.map(({ entry }) => entry.id).sort(),
    disagreement: new Set(heads.map(({ entry }) => entry.kind)).size > 1,
  };
}
