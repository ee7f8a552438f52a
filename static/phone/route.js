// Which screen is this address?  And which address has that screen?  Pure.

/** @typedef {{screen: 'scan' | 'type' | 'join' | 'stacks' | 'outbox'} | {screen: 'sheet' | 'steps', code: string}} Route */

const SCREENS = /** @type {const} */ (['type', 'join', 'stacks', 'outbox']);

/** @param {{pathname: string, hash: string}} address @returns {Route} */
export function read({ pathname, hash }) {
  const label = /^\/p\/([^/]*)\/?$/i.exec(pathname);
  const word = hash.replace(/^#/, '');
  if (label) return { screen: word === 'steps' ? 'steps' : 'sheet', code: safely(label[1]) };
  const screen = SCREENS.find((name) => name === word);
  return { screen: screen ?? 'scan' };
}

/** @param {Route} route */
export function write(route) {
  if ('code' in route) return `/p/${encodeURIComponent(route.code)}${route.screen === 'steps' ? '#steps' : ''}`;
  return route.screen === 'scan' ? '/phone/' : `/phone/#${route.screen}`;
}

/** @param {string} text */
function safely(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
