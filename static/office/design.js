/**
 * The design page: what was typed counts as soon as its field is left, and what follows from it is put in place.  Without
 * this script every form has a button that does the same.
 */

import { settle } from "./settle.js";

const root = () => document.querySelector("[data-design]");

/** One request after the other, in the order of what was done. */
let turn = Promise.resolve();

/** Send a form as its button would, and put in place what comes back.
 * @param {HTMLFormElement} form
 * @param {HTMLElement | null} button */
function send(form, button) {
  const fields = new FormData(form, button);
  const body = new URLSearchParams();
  for (const [name, value] of fields) body.append(name, String(value));
  turn = turn.then(async () => {
    root()?.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.action, { method: "POST", body, headers: { Accept: "text/html" } });
      const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (!fresh.querySelector("[data-design]")) throw new Error(`answered with ${answer.status}`);
      if (answer.ok) history.replaceState(null, "", answer.url);
      put(fresh, ["lines", "stacks"].includes(button?.getAttribute("value") ?? "") ? typing() : []);
    } catch {
      form.submit(); // the browser's own way, which says what is wrong
    }
    root()?.removeAttribute("aria-busy");
    document.dispatchEvent(new Event("settled"));
  });
}

/** The fields of a row that is being typed in and has not been sent yet.
 * @returns {Element[]} */
function typing() {
  const row = document.activeElement?.closest("[data-row]");
  const fields = row ? [...row.querySelectorAll("input")] : [];
  return fields.some((field) => field.value !== field.defaultValue) ? fields : [];
}

/** @param {Document} fresh
 * @param {Element[]} [kept]  fields that keep what was typed in them */
function put(fresh, kept = []) {
  const opened = [...document.querySelectorAll("details[id]")].filter((one) => one.hasAttribute("open"));
  const names = opened.map((one) => one.id);
  for (const one of fresh.querySelectorAll("details[id]")) {
    // What lay open stays so; what is new is what somebody has just asked for.
    if (names.includes(one.id) || !document.getElementById(one.id)) one.setAttribute("open", "");
  }
  const active = document.activeElement;
  const still = active instanceof HTMLInputElement && active.value === active.defaultValue;
  settle(document, fresh);
  // What was typed is not what stands in the page's text: fields that nobody types in show what the shop has taken.
  for (const field of document.querySelectorAll("[data-design] input")) {
    if (!(field instanceof HTMLInputElement) || (field === active && !still) || kept.includes(field)) continue;
    if (field.type === "checkbox" || field.type === "radio") field.checked = field.defaultChecked;
    else field.value = field.defaultValue;
  }
  for (const field of document.querySelectorAll("[data-design] select")) {
    if (!(field instanceof HTMLSelectElement) || field === document.activeElement) continue;
    const said = [...field.options].findIndex((option) => option.defaultSelected);
    field.selectedIndex = Math.max(0, said);
  }
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
  send(form, event.submitter);
});

// What is drawn changes without the page losing its place.
document.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("[data-design] a") : null;
  if (!(link instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  const to = new URL(link.href);
  if (to.pathname !== location.pathname) return;
  event.preventDefault();
  turn = turn.then(async () => {
    try {
      const answer = await fetch(to, { headers: { Accept: "text/html" } });
      if (!answer.ok) throw new Error(`answered with ${answer.status}`);
      history.replaceState(null, "", to);
      put(new DOMParser().parseFromString(await answer.text(), "text/html"));
    } catch {
      location.href = to.href;
    }
  });
});

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const wanted = key === "z" && !event.shiftKey ? "undo" : key === "y" || (key === "z" && event.shiftKey) ? "redo" : "";
  // Inside a field that is being typed in, the browser's own undo is meant.
  const field = document.activeElement;
  if (!wanted || (field instanceof HTMLInputElement && field.value !== field.defaultValue)) return;
  const button = document.querySelector(`[data-design] button[value=${wanted}]`);
  if (!(button instanceof HTMLButtonElement) || button.disabled || !button.form) return;
  event.preventDefault();
  send(button.form, button);
});
