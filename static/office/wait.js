/**
 * A run of a thousand labels takes its seconds: the button says so until the page is looked at or changed again.  The
 * form works without this.
 */

const PATIENCE = 120_000; // where the browser saves the file instead of showing it, nobody tells us that it is done

for (const form of document.querySelectorAll("form[data-waits]")) {
  const button = /** @type {HTMLButtonElement} */ (form.querySelector("button"));
  const says = button.textContent;
  const rest = () => {
    button.textContent = says;
    button.removeAttribute("aria-busy");
  };
  form.addEventListener("submit", () => {
    button.textContent = form.getAttribute("data-waits");
    button.setAttribute("aria-busy", "true");
    setTimeout(rest, PATIENCE);
  });
  form.addEventListener("input", rest);
  addEventListener("pageshow", rest);
}
