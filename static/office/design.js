/**
 * The design page: what was typed counts as soon as its field is left, and what follows from it is put in place.  Without
 * this script every form has a button that does the same.
 *
 * Nothing that was typed is lost by an answer to something else: a field that says another thing than the shop has taken
 * keeps it until it is taken itself, through a reload as well.
 */

import { settle } from "./settle.js";

/** @typedef {HTMLInputElement | HTMLSelectElement} Field */

const KEPT = "design-typed";

const root = () => document.querySelector("[data-design]");

/** @returns {Field[]} */
const fields = () =>
  /** @type {Field[]} */ ([...document.querySelectorAll("[data-design] :is(input:not([type=hidden]), select)")]);

/** What a field is known by while the page around it changes: a row of a table by its line.
 * @param {Element} field */
function nameOf(field) {
  const row = field.closest("[data-row]");
  const key = row?.querySelector("input[type=hidden]");
  if (!(key instanceof HTMLInputElement)) return field.id;
  return `${key.defaultValue} ${field.getAttribute("data-column")}`;
}

/** @param {Field} field */
const valueOf = (field) =>
  field instanceof HTMLInputElement && ["checkbox", "radio"].includes(field.type) ? `${field.checked}` : field.value;

/** What the shop has in place of what stands in a field.
 * @param {Field} field */
function takenOf(field) {
  if (field.dataset.taken !== undefined) return field.dataset.taken;
  if (field instanceof HTMLSelectElement)
    return ([...field.options].find((one) => one.defaultSelected) ?? field.options[0])?.value ?? "";
  return ["checkbox", "radio"].includes(field.type) ? `${field.defaultChecked}` : field.defaultValue;
}

/** @param {Field} field
 * @param {string} value */
function fill(field, value) {
  if (field instanceof HTMLInputElement && ["checkbox", "radio"].includes(field.type)) field.checked = value === "true";
  else if (field.value !== value) field.value = value;
}

/** What stands in every field.
 * @param {Field[]} among */
const said = (among) => new Map(among.map((field) => [nameOf(field), valueOf(field)]));

/** Whether something was typed or chosen in a field that was not taken.
 * @param {Field} field */
const waits = (field) => !!nameOf(field) && valueOf(field) !== takenOf(field);

/** One request after the other, in the order of what was done. */
let turn = Promise.resolve();

/** Send a form as its button would, and put in place what comes back.
 * @param {HTMLFormElement} form
 * @param {HTMLElement | null} button
 * @param {boolean} [again]  whether it is sent only to say again what is wrong with it */
function send(form, button, again = false) {
  const body = new URLSearchParams();
  for (const [name, value] of new FormData(form, button)) body.append(name, String(value));
  const sent = said(fields().filter((field) => field.form === form));
  turn = turn.then(async () => {
    root()?.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.action, { method: "POST", body, headers: { Accept: "text/html" } });
      const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (!fresh.querySelector("[data-design]")) throw new Error(`answered with ${answer.status}`);
      if (answer.ok) history.replaceState(null, "", answer.url);
      put(fresh, sent, again);
    } catch {
      form.submit(); // the browser's own way, which says what is wrong
    }
    root()?.removeAttribute("aria-busy");
    document.dispatchEvent(new Event("settled"));
  });
}

/** Look at an address of this page, or at this page anew.
 * @param {string} to */
function look(to) {
  turn = turn.then(async () => {
    try {
      const answer = await fetch(to, { headers: { Accept: "text/html" } });
      if (!answer.ok) throw new Error(`answered with ${answer.status}`);
      history.replaceState(null, "", to);
      put(new DOMParser().parseFromString(await answer.text(), "text/html"));
    } catch {
      location.href = to;
    }
  });
}

/** Put in place what was answered.  What was typed meanwhile, or waits in another form, stays.
 * @param {Document} fresh
 * @param {Map<string, string>} [sent]  what was asked with, field by field
 * @param {boolean} [again] */
function put(fresh, sent = new Map(), again = false) {
  const opened = [...document.querySelectorAll("details[id]")].filter((one) => one.hasAttribute("open"));
  const names = opened.map((one) => one.id);
  for (const one of fresh.querySelectorAll("details[id]")) {
    // What lay open stays so; what is new is what somebody has just asked for.
    const asked = !document.getElementById(one.id) && !one.classList.contains("saving");
    if (names.includes(one.id) || asked) one.setAttribute("open", "");
  }
  const active = document.activeElement instanceof Element ? nameOf(document.activeElement) : "";
  const kept = fields().filter((field) => waits(field) && sent.get(nameOf(field)) !== valueOf(field));
  const refused = kept.filter((field) => field.dataset.taken !== undefined).map(nameOf);
  const typed = said(kept);
  const before = sentences();
  settle(document, fresh);
  // What was typed is not what stands in the page's text: the other fields show what the shop has answered.
  for (const field of fields()) {
    const own = typed.get(nameOf(field));
    if (own !== undefined) fill(field, own);
    else if (field instanceof HTMLSelectElement) fill(field, takenOf(field));
    else if (field.type === "checkbox" || field.type === "radio") field.checked = field.defaultChecked;
    else fill(field, field.defaultValue);
    if (active && nameOf(field) === active && field !== document.activeElement) field.focus();
  }
  if (sentences() !== before) document.querySelector(".drawing-side")?.scrollTo(0, 0);
  // What could not be read in another form is still wrong, and the answer to this one does not know.
  const lost = again ? undefined : fields().find((field) => refused.includes(nameOf(field)) && waits(field));
  if (lost?.form && "atOnce" in lost.form.dataset) send(lost.form, lost.form.querySelector("button[name=do]"), true);
}

const sentences = () => document.querySelector(".drawing-side .warnings")?.textContent ?? "";

/** Put a field back that was not taken: the one in use, or else the first.  Says whether there was one. */
function putBack() {
  const wrong = fields().filter((field) => field.dataset.taken !== undefined && field.getAttribute("aria-invalid"));
  const field = wrong.find((one) => one === document.activeElement) ?? wrong[0];
  if (!field) return false;
  fill(field, field.dataset.taken ?? "");
  const form = field.form;
  const others = fields().filter((one) => one.form === form && one !== field && waits(one));
  if (form && others.length) send(form, form.querySelector("button[name=do]"));
  else look(location.href);
  return true;
}

document.addEventListener("change", ({ target }) => {
  const field = target instanceof HTMLElement ? target : null;
  const form = field?.closest("form");
  if (form instanceof HTMLFormElement && "atOnce" in form.dataset) send(form, form.querySelector("button[name=do]"));
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.closest("[data-design]")) return;
  event.preventDefault();
  if (event.submitter?.getAttribute("value") === "undo" && putBack()) return;
  send(form, event.submitter);
});

/** Go to a field, opening whatever it lies in.
 * @param {string} id */
function go(id) {
  const found = document.getElementById(id);
  for (let one = found; one; one = one.parentElement) if (one instanceof HTMLDetailsElement) one.open = true;
  const field = found instanceof HTMLDetailsElement ? found.querySelector("summary") : found;
  field?.scrollIntoView({ block: "center" });
  field?.focus({ preventScroll: true });
}

// What is drawn changes without the page losing its place.
document.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("[data-design] a") : null;
  if (!(link instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  const to = new URL(link.href);
  if (to.pathname !== location.pathname) return;
  event.preventDefault();
  if (link.getAttribute("href")?.startsWith("#")) go(decodeURIComponent(to.hash.slice(1)));
  else look(to.href);
});

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const wanted = key === "z" && !event.shiftKey ? "undo" : key === "y" || (key === "z" && event.shiftKey) ? "redo" : "";
  // Inside a field that is being typed in, the browser's own undo is meant.
  const field = document.activeElement;
  if (!wanted || (field instanceof HTMLInputElement && field.value !== field.defaultValue)) return;
  if (wanted === "undo" && putBack()) {
    event.preventDefault();
    return;
  }
  const button = document.querySelector(`[data-design] button[value=${wanted}]`);
  if (!(button instanceof HTMLButtonElement) || button.disabled || !button.form) return;
  event.preventDefault();
  send(button.form, button);
});

// --- through a reload: what was typed and not taken stands there again ---------------------------------------------

addEventListener("pagehide", () => {
  const typed = [...said(fields().filter(waits))];
  if (typed.length) sessionStorage.setItem(KEPT, JSON.stringify({ at: location.pathname, typed }));
  else sessionStorage.removeItem(KEPT);
});

const kept = JSON.parse(sessionStorage.getItem(KEPT) ?? "null");
sessionStorage.removeItem(KEPT);
if (kept?.at === location.pathname) {
  const typed = new Map(kept.typed);
  const forms = new Set();
  for (const field of fields()) {
    const own = typed.get(nameOf(field));
    if (typeof own !== "string") continue;
    fill(field, own);
    if (field.form && "atOnce" in field.form.dataset) forms.add(field.form);
  }
  for (const form of forms) send(form, form.querySelector("button[name=do]"), true);
}
