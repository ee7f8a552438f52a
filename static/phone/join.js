// A phone joins the shop: code, name, and the office's answer.

import { readCode } from '../trade/code.js';
import { answer } from './device.js';
import { NoAnswer, strange } from './exchange.js';
import * as keys from './keys.js';

const SIZE = 8;
const SCANNED = /^JOIN:([0-9A-HJKMNP-TV-Z]{8})$/i;

/** @typedef {import('./route.js').Route} Route */

/** @param {{store: import('./store.js').Store, way: import('./exchange.js').Door, paint: () => void, done: () => Promise<void>,
 *   go: (to: Route) => void, standing: () => Pick<import('./main.js').State, 'phone' | 'sync' | 'count'>}} with_ */
export function joining({ store, way, paint, done, go, standing }) {
  const state = {
    step: /** @type {'how' | 'type' | 'name'} */ ('how'),
    typing: keys.EMPTY,
    name: /** @type {string | null} */ (null), // null: nobody has named it yet
    says: '',
    busy: false,
    other: false, // a phone that has joined joins with another code
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

  /** A phone that joins again keeps its name, unless it is given another. */
  const named = () => state.name ?? standing().phone?.name ?? '';

  async function ask() {
    set({ busy: true, says: '' });
    const name = named().trim() || 'Phone';
    try {
      const { status, body } = await way.post('/join', { code: state.typing.typed, name });
      if (status === 200 && body) {
        await store.join(body, name);
        await done(); // until then this screen says that it is joining
        return set({ busy: false, step: 'how', typing: keys.EMPTY, name: null, other: false });
      }
      return set({ busy: false, says: body?.error?.says ?? strange(status) });
    } catch (err) {
      const why = err instanceof NoAnswer ? `${err.message} Come closer to it and press again.` : String(err);
      return set({ busy: false, says: why });
    }
  }

  return {
    /** @returns {Omit<import('./views/join.js').JoinModel, 'home' | 'pill'>} */
    model() {
      const { phone, sync, count } = standing();
      const shop = phone && !sync.refused && !state.other && state.step === 'how' ? phone.shop : '';
      return { ...state, name: named(), shop, again: Boolean(phone) && sync.refused, waiting: count };
    },
    isScanning: () => state.scanning,
    /** The screens about joining are left. */
    leave() {
      state.scanning = false;
      if (state.step === 'how') state.other = false;
    },
    /** The camera read something: the office's code opens the next step, once.  Says whether it did, or what to tell of
     * a text that has no place here.
     * @param {string} text @returns {boolean | string} */
    scanned(text) {
      const found = SCANNED.exec(text.trim());
      const { phone } = standing();
      if (!state.scanning) {
        // It may still be in sight when the phone has joined.
        return found && phone ? `The office's code: this phone has joined ${phone.shop}. Hold a label in the corners.` : false;
      }
      if (!found) {
        answer(false);
        if (!isLabel(text)) return "This is not the office's code: it is shown there by \u201cAdd a phone\u201d.";
        return `This is a part's label: ${phone ? 'hold' : 'this phone has to join first. Hold'} the office's code in the corners.`;
      }
      Object.assign(state, { scanning: false, step: 'name', typing: { typed: found[1].toUpperCase(), group: '' }, says: '' });
      go({ screen: 'join' });
      return true;
    },
    deeds: {
      scan() {
        state.scanning = true;
        go({ screen: 'scan' });
      },
      type: () => set({ step: 'type', typing: keys.EMPTY, says: '' }),
      back: () => set({ step: 'how', typing: keys.EMPTY, says: '' }),
      /** A phone that has joined is to join with another code. */
      other: () => set({ other: true }),
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

/** @param {string} text */
function isLabel(text) {
  try {
    return Boolean(readCode(text));
  } catch {
    return false;
  }
}
