// A phone joins the shop: code, name, and the office's answer.

import { NoAnswer } from './exchange.js';
import * as keys from './keys.js';

const SIZE = 8;
const SCANNED = /^JOIN:([0-9A-HJKMNP-TV-Z]{8})$/i;

/** @typedef {import('./route.js').Route} Route */

/** @param {{store: import('./store.js').Store, way: import('./exchange.js').Door, paint: () => void, done: () => void,
 *   go: (to: Route) => void}} with_ */
export function joining({ store, way, paint, done, go }) {
  const state = {
    step: /** @type {'how' | 'type' | 'name'} */ ('how'),
    typing: keys.EMPTY,
    name: '',
    says: '',
    busy: false,
    again: false,
    waiting: 0,
    scanning: false,
  };

  /** @param {Partial<typeof state>} news */
  function set(news) {
    Object.assign(state, news);
    paint();
  }

  /** @param {keys.Typing} typing */
  function take(typing) {
    set({ typing, says: '', ...(typing.typed.length === SIZE ? { step: 'name' } : {}) });
  }

  async function ask() {
    set({ busy: true, says: '' });
    const name = state.name.trim() || 'Phone';
    try {
      const { status, body } = await way.post('/join', { code: state.typing.typed, name });
      if (status === 200 && body) {
        await store.join(body, name);
        set({ busy: false, step: 'how', typing: keys.EMPTY });
        return done();
      }
      return set({ busy: false, says: body?.error?.says ?? `The office answered ${status}.` });
    } catch (err) {
      const why = err instanceof NoAnswer ? `${err.message} Come closer to it and press again.` : String(err);
      return set({ busy: false, says: why });
    }
  }

  return {
    /** @param {import('./views/frame.js').Pill} pill @returns {import('./views/join.js').JoinModel} */
    model: (pill) => ({ ...state, again: pill.joined, waiting: pill.count, pill }),
    isScanning: () => state.scanning,
    leave() {
      Object.assign(state, { scanning: false });
    },
    /** The camera read something: the office's code opens the next step.  Says whether it was one.
     * @param {string} text */
    scanned(text) {
      // The office's code may still be in sight when the phone has joined: then it opens nothing.
      const found = state.scanning && SCANNED.exec(text.trim());
      if (!found) return false;
      Object.assign(state, { scanning: false, step: 'name', typing: { typed: found[1].toUpperCase(), group: '' }, says: '' });
      go({ screen: 'join' });
      return true;
    },
    deeds: {
      scan() {
        state.scanning = true;
        go({ screen: 'scan' });
      },
      type: () => set({ step: 'type', typing: keys.EMPTY }),
      back: () => set({ step: 'how', typing: keys.EMPTY, says: '' }),
      /** @param {string} name */
      name: (name) => set({ name }),
      join: () => void ask(),
      keys: {
        /** @param {string} key */
        key: (key) => take(keys.press(state.typing, key, SIZE)),
        rubOut: () => take(keys.rubOut(state.typing)),
        /** @param {string} text */
        text: (text) => take({ typed: keys.symbols(text, SIZE), group: '' }),
      },
    },
  };
}
