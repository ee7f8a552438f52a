// A label before the camera becomes a text: the camera, the pace of reading, and the rests between.

import { NoPicture, SENTENCES, abilities, apply, openCamera, rearLenses, setForLabels } from './camera.js';
import { decoder } from './decoder.js';
import { grey, lightness } from './frame.js';
import { NoDecoder, pixels } from './reader.js';

/** @typedef {import('./camera.js').Trouble} Trouble */
/** @typedef {'starting' | 'running' | 'paused' | 'stopped'} State */

const APART = 1_000 / 12; // milliseconds between two readings, at least
const SAME = 2_000; // a text that was in the picture so lately is not told again
const IDLE = 60_000; // without one of our labels, the camera rests
const KEPT = 15_000; // how long a paused camera is kept open: a sheet is looked at, then the next label
const BLACK = 5_000; // without a single picture, something is wrong
const AGAIN = 10_000; // a camera that stops more often than this is left alone
const DIM = 60; // mean grey of 255 under which a light helps
const LENS = 'facemark-lens';

/**
 * `onCode` gets what a symbol says, and tells whether it was one of ours.  `onTrouble` gets a kind and one sentence for the
 * person; typing always works meanwhile.  `onState` tells that something to show has changed; 'running' ends a trouble.
 * @param {{video: HTMLVideoElement, onCode: (text: string) => boolean | void,
 *   onTrouble: (kind: Trouble, sentence: string) => void, onState?: (state: State) => void}} with_
 */
export function scanner({ video, onCode, onTrouble, onState = () => undefined }) {
  const reading = decoder();
  /** @type {MediaStream | null} */
  let stream = null;
  /** @type {{id: string, name: string}[]} */
  let lenses = [];
  /** @type {State} */
  let state = 'stopped';
  let wanted = false; // the Scan screen is open
  let turn = 0; // counts starts and pauses: what belongs to an earlier one gives up
  let light = false;
  let dim = false;
  let activeAt = 0; // when one of our labels was read, or the camera was started
  let restartedAt = -AGAIN;
  /** @type {{text: string, at: number}} */
  let seen = { text: '', at: -SAME };
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let lettingGo;

  const track = () => stream?.getVideoTracks()[0];
  const now = () => performance.now();

  /** @param {State} to */
  function be(to) {
    if (state === to) return;
    state = to;
    onState(to);
  }

  /** @param {Trouble} kind @param {string} [sentence] */
  function fail(kind, sentence = SENTENCES[kind]) {
    turn += 1;
    letGo();
    state = 'stopped';
    onTrouble(kind, sentence);
  }

  /** Give the camera back. */
  function letGo() {
    clearTimeout(lettingGo);
    const old = stream;
    stream = null;
    light = false;
    for (const each of old?.getTracks() ?? []) each.stop();
    video.srcObject = null;
  }

  async function start() {
    wanted = true;
    turn += 1;
    const mine = turn;
    clearTimeout(lettingGo);
    activeAt = now();
    if (document.visibilityState === 'hidden') return;
    // Ready before the first picture, and beside it.
    const warmed = reading.warm().then(
      () => true,
      () => false,
    );
    try {
      if (track()?.readyState !== 'live') {
        letGo();
        be('starting');
        const opened = await openCamera(recall(), navigator.mediaDevices);
        if (mine !== turn) {
          for (const each of opened.getTracks()) each.stop();
          return;
        }
        stream = opened;
        await settle(opened.getVideoTracks()[0]);
      }
      if (mine !== turn) return;
      if (video.srcObject !== stream) video.srcObject = stream;
      be('running');
      if (!(await warmed) && mine === turn) return fail('no-decoder');
      if (mine === turn) await keepReading(mine);
    } catch (err) {
      if (mine !== turn) return;
      if (err instanceof NoPicture) fail(err.kind);
      else if (err instanceof NoDecoder) fail('no-decoder');
      else throw err;
    }
  }

  /** @param {MediaStreamTrack} opened */
  async function settle(opened) {
    opened.addEventListener('ended', () => opened === track() && void stopped());
    // Phones take the picture away for a call or another app, and do not always give it back.
    opened.addEventListener('mute', () => setTimeout(() => opened === track() && opened.muted && void stopped(), SAME));
    await setForLabels(opened);
    const listed = await rearLenses(navigator.mediaDevices).catch(() => []);
    lenses = listed;
  }

  /** The camera stopped by itself: say so, and try once to have it back. */
  async function stopped() {
    const again = wanted && now() - restartedAt > AGAIN;
    fail('ended');
    if (!again || document.visibilityState === 'hidden') return;
    restartedAt = now();
    await start();
  }

  /** Read picture after picture until the turn is over.
   * @param {number} mine */
  async function keepReading(mine) {
    reading.begin();
    let pictureAt = now();
    let lookedAt = -1_000;
    while (mine === turn) {
      const began = now();
      // A video that is taken out of the page and put back stands still; one that cannot play yet is asked again.
      if (video.paused) void video.play().catch(() => undefined);
      const fresh = await nextPicture(video);
      if (mine !== turn) return;
      if (fresh) {
        pictureAt = now();
        const view = { source: video, width: video.videoWidth, height: video.videoHeight };
        const text = await reading.read(view);
        if (mine !== turn) return;
        if (text !== null) tell(text);
        if (now() - lookedAt > 1_000) {
          lookedAt = now();
          look(view);
        }
      } else if (now() - pictureAt > BLACK) {
        return void stopped();
      }
      if (mine !== turn) return;
      if (now() - activeAt > IDLE) return fail('ended', SENTENCES.rests);
      await pause_(APART - (now() - began));
    }
  }

  /** @param {string} text */
  function tell(text) {
    const again = text === seen.text && now() - seen.at < SAME;
    seen = { text, at: now() };
    if (!again && onCode(text)) activeAt = now();
  }

  /** Whether a light would help.
   * @param {import('./reader.js').View} view */
  function look(view) {
    const small = { x: 0, y: 0, width: view.width, height: view.height, toWidth: 32, toHeight: 32 };
    const { data } = pixels(view, small);
    const was = dim;
    dim = lightness(grey(data, 32, 32)) < DIM;
    if (dim !== was) onState(state);
  }

  /** Stop reading.  The camera stays open for a little while, for the next label. */
  function pause() {
    wanted = false;
    turn += 1;
    seen = { text: '', at: -SAME };
    const lamp = track();
    if (light && lamp) void apply(lamp, { torch: false });
    light = false;
    video.pause();
    clearTimeout(lettingGo);
    if (stream) lettingGo = setTimeout(letGo, KEPT);
    if (state !== 'stopped') be('paused');
  }

  function stop() {
    pause();
    letGo();
    be('stopped');
  }

  document.addEventListener('visibilitychange', () => {
    if (!wanted) return document.visibilityState === 'hidden' ? letGo() : undefined;
    if (document.visibilityState === 'visible') return void start();
    turn += 1;
    letGo();
    be('paused');
  });

  // The decoder is compiled when the app opens, not at the first label; the page comes first.
  (globalThis.requestIdleCallback ?? setTimeout)(() => void reading.warm().catch(() => undefined));

  return {
    start,
    pause,
    stop,
    /** The phone's light; `dim` says that it would help. */
    torch: () => ({
      available: Boolean(abilities(track()).torch),
      on: light,
      dim,
      /** @param {boolean} on */
      async set(on) {
        const lamp = track();
        if (lamp && (await apply(lamp, { torch: on }))) light = on;
      },
    }),
    /** The rear lenses, for a phone that opens one which cannot focus near. */
    lenses: () => lenses.map(({ id, name }) => ({ id, name, on: id === track()?.getSettings().deviceId })),
    /** Take another lens, now and the next time.
     * @param {string} id */
    async useLens(id) {
      remember(id);
      letGo();
      if (wanted) await start();
    },
    /** What a photograph says, or null: none found, or no picture at all.  Rejects with NoDecoder.
     * @param {Blob} file */
    async decodeFile(file) {
      const source = await createImageBitmap(file).catch(() => null);
      if (!source) return null;
      try {
        return await reading.readPhotograph({ source, width: source.width, height: source.height });
      } finally {
        source.close();
      }
    },
  };
}

/** Wait for a picture that was not read yet: whether one came within half a second.
 * @param {HTMLVideoElement} video @returns {Promise<boolean>} */
function nextPicture(video) {
  if (!('requestVideoFrameCallback' in video)) {
    const there = /** @type {HTMLVideoElement} */ (video).readyState >= 2 && /** @type {HTMLVideoElement} */ (video).videoWidth > 0;
    return new Promise((resolve) => setTimeout(() => resolve(there), 30));
  }
  return new Promise((resolve) => {
    const asked = video.requestVideoFrameCallback(() => {
      clearTimeout(timer);
      resolve(video.videoWidth > 0);
    });
    const timer = setTimeout(() => {
      video.cancelVideoFrameCallback(asked);
      resolve(false);
    }, 500);
  });
}

/** @param {number} milliseconds */
const pause_ = (milliseconds) => new Promise((resolve) => setTimeout(resolve, Math.max(0, milliseconds)));

/** The lens chosen last; a phone that keeps nothing has none. */
function recall() {
  try {
    return localStorage.getItem(LENS) ?? '';
  } catch {
    return '';
  }
}

/** @param {string} id */
function remember(id) {
  try {
    localStorage.setItem(LENS, id);
  } catch {
    // Private windows keep nothing: the choice lasts until the app is closed.
  }
}
