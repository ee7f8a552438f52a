// When did it happen, if the clocks disagree?  A hybrid logical clock; twin of shopfloor/journal/clock.py.

/** A moment: milliseconds since 1970, and a counter for ties.
 * @typedef {[number, number]} Stamp */

/** The stamp of the next own entry: now, or just after the last one seen.
 * @param {Stamp} last @param {number} now @returns {Stamp} */
export function tick(last, now) {
  return now > last[0] ? [now, 0] : [last[0], last[1] + 1];
}

/** The later of the two: whatever is written next comes after what was seen.
 * @param {Stamp} last @param {Stamp} seen @returns {Stamp} */
export function observe(last, seen) {
  return seen[0] > last[0] || (seen[0] === last[0] && seen[1] > last[1]) ? seen : last;
}
