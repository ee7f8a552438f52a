// Typing the code of a label: the keys, what is typed so far, and the parts it may be.

import { UnreadableCode, readCode } from '../trade/code.js';
import * as keys from './keys.js';

const SIZE = 6;
const FEW = 2; // so many names are offered at once

/** @param {{store: import('./store.js').Store, paint: () => void, open: (code: string) => void}} with_ */
export function typing({ store, paint, open }) {
  let typed = keys.EMPTY;
  let says = '';
  /** @type {Awaited<ReturnType<typeof store.beginningWith>>} */
  let found = [];

  /** @param {keys.Typing} now */
  async function take(now) {
    const more = now.typed !== typed.typed;
    typed = now;
    says = '';
    if (more) found = [];
    paint();
    if (now.typed.length === SIZE) return finish();
    if (!more || now.typed.length < 2) return undefined;
    const possible = await store.beginningWith(now.typed, FEW + 1);
    if (typed !== now) return undefined;
    found = possible.length <= FEW ? possible : [];
    return paint();
  }

  function finish() {
    try {
      return open(readCode(typed.typed));
    } catch (err) {
      if (!(err instanceof UnreadableCode)) throw err;
      says = err.says;
      return paint();
    }
  }

  return {
    model: () => ({ typing: typed, found, says }),
    reset() {
      typed = keys.EMPTY;
      says = '';
      found = [];
    },
    deeds: {
      /** @param {string} key */
      key: (key) => void take(keys.press(typed, key, SIZE)),
      rubOut: () => void take(keys.rubOut(typed)),
      /** @param {string} text */
      text: (text) => void take({ typed: keys.symbols(text, SIZE), group: '' }),
    },
  };
}
