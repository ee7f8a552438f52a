// What a phone knows of a job: the pack's types (DEVELOPERS.md, "A pack"), and how a part is called.

/** Words and lengths: strings are text, whole numbers are nanometres.
 * @typedef {readonly (string | number)[]} Said */
/** `drawing` is there if the step has one of its own; `not_after` says after which others it cannot be done, and why.
 * @typedef {{key: string, name: string, done: string, detail: Said, drawing?: string,
 *   not_after?: Record<string, string>}} Step */
/** @typedef {{at: number, says: string, feature: string}} Mark */
/** @typedef {{letter: string, code: string, name: string, place: string, says: string}} Mate */
/** @typedef {{key: string, name: string, unit: 'in' | 'mm', denominator: number, revision: number, species: string}} Job */
/** @typedef {{code: string, key: string, number: number, name: string, parts: string[],
 *   drawing?: string}} Stack */
/** @typedef {{code: string, key: string, line: string, name: string, place: string, hand: 'as drawn' | 'mirror',
 *   mirrors: string, stack: string, nth: [number, number], thickness: number, width: number, length: number,
 *   species: string, datum: string, note: string, marks: Mark[], check: number, letters: string[], mates: Mate[],
 *   route: Step[], ends?: import('../trade/short.js').End[], drawing: string}} Part */
/** One drawing, as SVG text in either unit.
 * @typedef {{in: string, mm: string}} Drawing */
/** A label that a later revision has left without its part or stack; `since` is that revision.
 * @typedef {{code: string, name: string, place: string, since: number}} Gone */
/** @typedef {{form: number, etag: string, job: Job, stacks: Stack[], parts: Part[],
 *   drawings: Record<string, Drawing>, gone?: Gone[]}} Pack */

/** How lengths are written: the unit, and the denominator of fractions.
 * @typedef {{unit: 'in' | 'mm', denominator: number}} Writing */

/** What a part is called at the bench: "Front left leg", "Slat, 2 of 4", "Top".  Twin: `called` in trade/sheet.py.
 * @param {{name: string, place: string}} part */
export function called({ name, place }) {
  if (!place) return name;
  if (/^[0-9]/.test(place)) return `${name}, ${place}`;
  const own = /^.\p{Lu}/u.test(name) ? name : name.charAt(0).toLowerCase() + name.slice(1);
  return `${place.charAt(0).toUpperCase()}${place.slice(1)} ${own}`;
}

/** Which hand a part has, in words: nothing is retyped for a mirror image, so it must be said.
 * @param {Pick<Part, 'hand' | 'mirrors'>} part */
export function handed({ hand, mirrors }) {
  if (hand === 'as drawn') return 'as drawn';
  return mirrors ? `mirror image of the ${mirrors}` : 'mirror image';
}

/** How lengths are written on this phone: as the job says, unless the phone has been switched.
 * @param {Job} job @param {'' | 'in' | 'mm'} chosen @returns {Writing} */
export function writing(job, chosen) {
  return { unit: chosen || job.unit, denominator: job.denominator };
}
