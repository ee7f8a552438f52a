// Is this press meant, or is it the second half of a double tap?
//
// Gloves press twice, and a press changes what stands under the thumb: "Scan next" comes where "Mortises cut" was, a tile
// would take back what it has just marked.  So the place that was pressed is shut until a moment after the change.

const SHUT = 600; // milliseconds: the slow half of a double tap, and less than anybody needs to read the new words
const NEAR = 72; // pixels, 11 mm: the second half of a double tap falls no further from the first

/** @typedef {{x: number, y: number}} Place */

/** Watch the presses on a page, before anything else hears of them.
 * @param {Pick<Document, 'addEventListener'>} page @param {() => number} [now]  milliseconds */
export function presses(page, now = () => performance.now()) {
  /** @type {Place} */
  let pressed = { x: 0, y: 0 };
  let at = -Infinity; // when that was
  let shut = pressed;
  let until = 0;

  /** @param {Event} event */
  function hear(event) {
    const place = placeOf(/** @type {MouseEvent} */ (event));
    if (now() < until && Math.hypot(place.x - shut.x, place.y - shut.y) <= NEAR) {
      event.stopImmediatePropagation();
      event.preventDefault();
    } else {
      pressed = place;
      at = now();
    }
  }

  /** A key that is held presses once.
   * @param {Event} event */
  function hearKey(event) {
    const { key, repeat, target } = /** @type {KeyboardEvent} */ (event);
    if (repeat && key === 'Enter' && /** @type {Element} */ (target).closest('a, button')) event.preventDefault();
  }

  page.addEventListener('click', hear, true);
  page.addEventListener('keydown', hearKey, true);

  return {
    /** What is under the thumb changes: the place of the press that did it is shut for a moment. */
    changes() {
      if (now() - at > SHUT) return;
      shut = pressed;
      until = now() + SHUT;
    },
    /** The same for work that takes its time: the place is shut until it is done, and a moment longer.
     * @template T @param {() => Promise<T>} work @returns {Promise<T>} */
    async during(work) {
      const mine = (shut = pressed);
      until = Infinity;
      try {
        return await work();
      } finally {
        if (shut === mine) until = now() + SHUT;
      }
    },
  };
}

/** Where a press is; one by a key is in the middle of what it presses.
 * @param {MouseEvent} event @returns {Place} */
function placeOf({ detail, clientX, clientY, target }) {
  const thing = /** @type {Element} */ (target).closest('a, button, label');
  if (detail || !thing) return { x: clientX, y: clientY };
  const { left, right, top, bottom } = thing.getBoundingClientRect();
  return { x: (left + right) / 2, y: (top + bottom) / 2 };
}
