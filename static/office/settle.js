/**
 * Makes what is on the page the same as what the shop answered, touching only what differs, so that a link that has the
 * focus keeps it.  Both pages come from our own server, which has escaped what people typed.
 */

/** Bring every part of `now` that is marked data-live to what `fresh` has there.
 * @param {ParentNode} now  the page that is looked at
 * @param {ParentNode} fresh  the same page as it was answered just now */
export function settle(now, fresh) {
  for (const old of now.querySelectorAll("[data-live]")) {
    const name = old.getAttribute("data-live") ?? "";
    const next = [...fresh.querySelectorAll("[data-live]")].find((one) => one.getAttribute("data-live") === name);
    if (next) same(old, next);
  }
}

/** Make `old` the same as `next`; elements that keep their place keep being themselves.
 * @param {Element} old
 * @param {Element} next */
function same(old, next) {
  if (old.isEqualNode(next)) return;
  if (old.localName !== next.localName) {
    old.replaceWith(document.importNode(next, true));
    return;
  }
  for (const { name } of [...old.attributes]) if (!next.hasAttribute(name)) old.removeAttribute(name);
  for (const { name, value } of next.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  const there = [...old.childNodes];
  const wanted = [...next.childNodes];
  wanted.forEach((child, place) => {
    const here = there[place];
    if (here instanceof Element && child instanceof Element) same(here, child);
    else if (here && here.nodeType === child.nodeType) here.nodeValue = child.nodeValue;
    else if (here) here.replaceWith(document.importNode(child, true));
    else old.append(document.importNode(child, true));
  });
  for (const extra of there.slice(wanted.length)) extra.remove();
}
