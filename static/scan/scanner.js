// A label before the camera becomes a text: the camera, the pace of reading, and the rests between.

import { abilities, apply, chooseLens, chosenLens, openCamera, rearLenses, setForLabels } from './camera.js';
import { decoder } from './decoder.js';
import { grey, lightness } from './frame.js';
import { pixels } from './reader.js';
import { NoPicture, SENTENCES } from './trouble.js';

/** @typedef {import('./trouble.js').Trouble} Trouble */
/** @typedef {'starting' | 'running' | 'paused' | 'stopped'} State */

const APART = 1_000 / 12; // milliseconds between two readings, at least
const SAME = 2_000; // a text that was in the picture so lately is not told again
const IDLE = 60_000; // without one of our labels, the camera rests
const KEPT = 15_000; // how long a paused camera is kept open: a sheet is looked at, then the next label
const MUTED = 2_000; // a camera that is taken away for longer has stopped
const BLACK = 10; // half seconds without a picture: something is wrong
const AGAIN = 10_000; // a camera that stops more often than this is left alone
const LOOKS = 1_000; // milliseconds between two looks at how light it is
const DIM = 60; // mean grey of 255 under which a light helps

/**
 * `onCode` gets what a symbol says, and tells whether it was one of ours.  `onTrouble` gets a kind and one sentence for
 * the person; typing always works meanwhile.  `onState` tells that something to show has changed; 'running' ends a
 * trouble.
 * @param {{video: HTMLVideoElement, onCode: (text: string) => boolean | void,
 *   onTrouble: (kind: Trouble, sentence: string) => void, onState?: (state: State) => void}} with_
 */
export function scanner({ video, onCode, onTrouble, onState = () => undefined }) {
  const reading = decoder();
  /** @type {MediaStream | null} */
  let stream = null;
  /** @type {Promise<void> | null} */
  let opening = null;
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

  /** Open the camera and begin to read; resolves when the first picture is awaited, or the trouble has been told. */
  async function start() {
    wanted = true;
    turn += 1;
    const mine = turn;
    clearTimeout(lettingGo);
    activeAt = now();
    seen = { text: '', at: -SAME };
    if (document.visibilityState === 'hidden') return;
    // Compiled beside the opening of the camera.
    const warmed = reading.warm().then(
      () => true,
      () => false,
    );
    try {
      if (track()?.readyState !== 'live') {
        letGo();
        be('starting');
        await (opening ??= open().finally(() => (opening = null)));
      }
    } catch (err) {
      if (!(err instanceof NoPicture)) throw err;
      if (mine === turn) fail(err.kind);
      return;
    }
    if (mine !== turn) return;
    if (video.srcObject !== stream) video.srcObject = stream;
    be('running');
    if (!(await warmed)) {
      if (mine === turn) fail('no-decoder');
    } else if (mine === turn) {
      void keepReading(mine);
    }
  }

  /** Ask for the camera: once, whoever waits for it, because each asking may put a question to the person. */
  async function open() {
    const opened = await openCamera(chosenLens(), navigator.mediaDevices);
    stream = opened;
    const [picture] = opened.getVideoTracks();
    picture.addEventListener('ended', () => picture === track() && void stopped());
    // Phones take the picture away for a call or another app, and do not always give it back.
    picture.addEventListener('mute', () => {
      setTimeout(() => picture === track() && picture.muted && void stopped(), MUTED);
    });
    await setForLabels(picture);
    lenses = await rearLenses(navigator.mediaDevices).catch(() => []);
    if (!wanted || document.visibilityState === 'hidden') letGo();
  }

  /** The camera stopped by itself: say so, and try once to have it back. */
  async function stopped() {
    fail('ended');
    const again = wanted && document.visibilityState === 'visible' && now() - restartedAt > AGAIN;
    if (!again) return;
    restartedAt = now();
    await start();
  }

  /** Read picture after picture until the turn is over.
   * @param {number} mine */
  async function keepReading(mine) {
    reading.begin();
    let missed = 0;
    let lookedAt = -LOOKS;
    let mishaps = 0;
    while (mine === turn) {
      const began = now();
      // A video that is taken out of the page and put back stands still; one that cannot play yet is asked again.
      if (video.paused) void video.play().catch(() => undefined);
      const fresh = await nextPicture(video);
      if (mine !== turn) return;
      if (fresh) {
        missed = 0;
        const view = { source: video, width: video.videoWidth, height: video.videoHeight };
        if (now() - lookedAt > LOOKS) {
          lookedAt = now();
          look(view);
        }
        try {
          const text = await reading.read(view);
          mishaps = 0;
          if (text !== null && mine === turn) tell(text);
        } catch {
          // A worker may die of a full memory; the next picture gets a new one, once.
          mishaps += 1;
          if (mishaps > 1 && mine === turn) return fail('no-decoder');
        }
      } else {
        missed += 1;
        if (missed >= BLACK) return void stopped();
      }
      if (mine !== turn) return;
      if (now() - activeAt > IDLE) return fail('ended', SENTENCES.rests);
      await rest(APART - (now() - began));
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
      chooseLens(id);
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
    const { readyState, videoWidth } = /** @type {HTMLVideoElement} */ (video);
    return new Promise((resolve) => setTimeout(() => resolve(readyState >= 2 && videoWidth > 0), 30));
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
const rest = (milliseconds) => new Promise((resolve) => setTimeout(resolve, Math.max(0, milliseconds)));
