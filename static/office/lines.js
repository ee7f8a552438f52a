/**
 * The tables of lines and of stacks, by keyboard: Enter goes to the next row, arrow keys up and down.  What was typed in a row counts as
 * soon as the row is left (design.js sends it).  Without this script a button under the table does the same.
 */

/** @param {EventTarget | null} target
 * @returns {HTMLElement | null} */
const rowOf = (target) => (target instanceof Element ? target.closest("[data-row]") : null);

/** @param {Element} row */
const touched = (row) =>
  [...row.querySelectorAll("input")].some((field) =>
    field.type === "checkbox" ? field.checked !== field.defaultChecked : field.value !== field.defaultValue,
  );

/** @param {Element} row */
function send(row) {
  const form = row.closest("form");
  const button = form?.querySelector("button[name=do]");
  if (form && button instanceof HTMLButtonElement) form.requestSubmit(button);
}

/** The same column so many rows on.
 * @param {Element} field
 * @param {number} by */
function beside(field, by) {
  const row = rowOf(field);
  const rows = [...(row?.closest("form")?.querySelectorAll("[data-row]") ?? [])];
  const next = row ? rows[rows.indexOf(row) + by] : undefined;
  const column = field.getAttribute("data-column");
  const found = next?.querySelector(`[data-column="${column}"]`) ?? next?.querySelector("[data-column]");
  return found instanceof HTMLElement ? found : null;
}

/** @param {HTMLElement} field */
function enter(field) {
  field.focus();
  if (field instanceof HTMLInputElement && field.type !== "checkbox") field.select();
}

/** Whether the row that comes with the answer is to be entered: a line was added below. */
let below = false;

document.addEventListener("keydown", (event) => {
  const field = event.target;
  const row = rowOf(field);
  if (!row || !(field instanceof HTMLElement) || event.ctrlKey || event.metaKey || event.altKey) return;
  const by = { Enter: 1, ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (!by || field instanceof HTMLAnchorElement) return;
  event.preventDefault();
  const next = beside(field, by);
  if (next) enter(next); // leaving the row sends it
  else if (event.key === "Enter" && touched(row)) {
    below = !!row.closest("form")?.querySelector(".empty-row");
    send(row);
  }
});

document.addEventListener("focusout", (event) => {
  const row = rowOf(event.target);
  // A window that is left for another one is come back to.
  const left = event.relatedTarget ? rowOf(event.relatedTarget) !== row : document.hasFocus();
  if (row && left && touched(row)) send(row);
});

document.addEventListener("change", ({ target }) => {
  const row = rowOf(target);
  if (row && target instanceof HTMLInputElement && target.type === "checkbox") send(row);
});

document.addEventListener("settled", () => {
  if (!below) return;
  below = false;
  const last = document.querySelector(".empty-row [data-column=name]");
  const wrong = document.querySelector("[data-row] [aria-invalid]");
  const field = wrong ?? last;
  if (field instanceof HTMLElement) enter(field);
});
