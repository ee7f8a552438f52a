// The camera on the Scan screen: what it reads opens a sheet, or says why not.

import { answer } from './device.js';

/** @typedef {ReturnType<typeof import('../scan/scanner.js').scanner>} Scanner */
/** @typedef {typeof import('../trade/code.js')} Codes */

/** @param {{paint: () => void, open: (code: string) => void, join: (text: string) => boolean | string}} with_
 *   join: whether a text was the office's code and is dealt with, or a sentence to show because of it */
export function scanning({ paint, open, join }) {
  const video = Object.assign(document.createElement('video'), { muted: true, playsInline: true, autoplay: true });
  video.setAttribute('aria-hidden', 'true');
  let trouble = '';
  let says = '';
  let shown = false;

  /** @type {Scanner | undefined} */
  let made;
  /** @type {Codes | undefined} */
  let codes;
  /** @type {Promise<Scanner> | undefined} */
  let coming;

  /** The camera and its readers, fetched when first wanted: the screen comes first, and a code can be typed meanwhile. */
  function camera() {
    coming ??= Promise.all([import('../scan/scanner.js'), import('../trade/code.js')]).then(([{ scanner }, known]) => {
      codes = known;
      made = scanner({
        video,
        onCode: (text) => read(text, known),
        onTrouble(_kind, sentence) {
          trouble = sentence;
          paint();
        },
        onState(state) {
          if (state === 'running') trouble = '';
          paint();
        },
      });
      return made;
    });
    return coming;
  }

  async function begin() {
    const one = await camera();
    if (!shown) return;
    paint(); // with the place for its picture
    await one.start();
  }

  /** A text in the camera's picture.  Says whether it was one of ours.
   * @param {string} text @param {Codes} codes */
  function read(text, { UnreadableCode, readCode }) {
    if (!shown) return false;
    const joins = join(text);
    if (joins === true) {
      answer(true);
      return true;
    }
    if (joins) {
      says = joins;
      paint();
      return false;
    }
    try {
      const code = readCode(text);
      answer(true);
      open(code);
      return true;
    } catch (err) {
      if (!(err instanceof UnreadableCode)) throw err;
      answer(false);
      says = err.says;
      paint();
      return false;
    }
  }

  return {
    /** The Scan screen comes or goes.
     * @param {boolean} on */
    show(on) {
      shown = on;
      says = '';
      if (on) void begin();
      else made?.pause();
    },
    model() {
      const lamp = made?.torch();
      const light = lamp?.available ? { on: lamp.on, dim: lamp.dim } : null;
      return { video: made && video, trouble, says, light, lenses: made?.lenses().length ?? 0 };
    },
    deeds: {
      /** @param {boolean} on */
      setLight: (on) => void made?.torch().set(on).then(paint),
      /** The next of the rear lenses: some cannot see near. */
      otherLens() {
        const all = made?.lenses() ?? [];
        const at = all.findIndex((lens) => lens.on);
        if (all.length > 1) void made?.useLens(all[(at + 1) % all.length].id);
      },
      start: () => {
        if (trouble) void begin();
      },
      /** @param {File} file */
      async picture(file) {
        const one = await camera();
        const text = await one.decodeFile(file).catch((err) => {
          trouble = String(err instanceof Error ? err.message : err);
          return null;
        });
        if (text && codes && read(text, codes)) return;
        if (!text) {
          answer(false);
          says = 'No label found in that picture. Closer, and the label flat.';
        }
        paint();
      },
    },
  };
}
