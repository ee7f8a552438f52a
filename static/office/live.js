/**
 * Pages that follow the floor: the page is asked for again every two seconds while it can be seen, and what has changed
 * on it is put in place, without losing the focus or the place on the page.
 */

import { settle } from "./settle.js";

const EVERY = 2000;
const PATIENCE = 8000;

const page = document.querySelector("[data-live-page]");
const says = /** @type {HTMLElement | null} */ (document.querySelector("[data-live-says]"));

/** The time of day, as the office writes it: 14:05.
 * @param {Date} when */
const clock = (when) => `${String(when.getHours()).padStart(2, "0")}:${String(when.getMinutes()).padStart(2, "0")}`;

/** @param {string} text */
const say = (text) => {
  if (!says || says.textContent === text) return;
  says.textContent = text;
  says.hidden = false;
};

let tag = "";
let answered = new Date();
let asking = false;

/** Ask for this page again, and put in place what is new.  Resolves when that is done or has failed. */
async function ask() {
  if (asking || document.hidden) return;
  asking = true;
  try {
    const answer = await fetch(location.href, {
      headers: { Accept: "text/html", ...(tag ? { "If-None-Match": tag } : {}) },
      cache: "no-store",
      signal: AbortSignal.timeout(PATIENCE),
    });
    if (answer.status === 200) {
      const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
      settle(document, fresh);
      tag = answer.headers.get("ETag") ?? "";
    } else if (answer.status !== 304) {
      throw new Error(`answered with ${answer.status}`);
    }
    answered = new Date();
    say("live");
  } catch {
    say(`no answer since ${clock(answered)}`);
  } finally {
    asking = false;
  }
}

if (page) {
  setInterval(ask, EVERY);
  document.addEventListener("visibilitychange", ask);
  void ask();
}
