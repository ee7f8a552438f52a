// What can this phone do?  Light, sound, buzz, staying awake, keeping its storage: each may be missing.

/** Whether this is a browser tab on iOS: its storage is not that of the app on the home screen, and is thrown away after
 * a week.  Nothing is recorded there.
 * @param {{standalone?: boolean}} [browser] */
export function isTabOnIos(browser = navigator) {
  return browser.standalone === false;
}

/** Whether the app runs in a window of its own, from the home screen. */
export function isInstalled() {
  return navigator.standalone === true || matchMedia('(display-mode: standalone)').matches;
}

/** Ask the browser to keep our storage; resolves to whether it promises to. */
export async function keepStorage() {
  if (!navigator.storage?.persist) return false;
  return (await navigator.storage.persisted()) || navigator.storage.persist();
}

const LEAST_ROOM = 200e6;

/** Whether the phone gives us less than 200 MB more: time to say so, while all can still be kept. */
export async function isNearlyFull() {
  const { quota, usage = 0 } = (await navigator.storage?.estimate?.().catch(() => undefined)) ?? {};
  return quota !== undefined && quota - usage < LEAST_ROOM;
}

/** Keep the screen awake, or let it sleep again.  The browser lets go by itself when the app goes to the background.
 * @returns {(on: boolean) => Promise<void>} */
export function wakefulness() {
  /** @type {WakeLockSentinel | null} */
  let lock = null;
  let wanted = false;
  async function hold() {
    if (!wanted || lock || document.visibilityState !== 'visible' || !navigator.wakeLock) return;
    try {
      lock = await navigator.wakeLock.request('screen');
      lock.addEventListener('release', () => {
        lock = null;
      });
      if (!wanted) await lock.release();
    } catch {
      // A low battery, or a browser that will not.
    }
  }
  document.addEventListener('visibilitychange', () => void hold());
  return async (on) => {
    wanted = on;
    if (on) await hold();
    else await lock?.release();
  };
}

/** @type {AudioContext | undefined} */
let speaker;

/** Sound may only start after a touch: call this on the first one. */
export function warmSound() {
  if (typeof AudioContext !== 'function') return;
  speaker ??= new AudioContext();
  if (speaker.state === 'suspended') void speaker.resume();
}

/** Answer with a sound and a buzz: two short rising notes for yes, one long low one for no.
 * @param {boolean} yes */
export function answer(yes) {
  navigator.vibrate?.(yes ? 60 : [120, 60, 120]);
  if (!speaker || speaker.state !== 'running') return;
  if (yes) {
    note(speaker, 880, 0, 0.08);
    note(speaker, 1320, 0.09, 0.1);
  } else note(speaker, 220, 0, 0.3);
}

/** @param {AudioContext} context @param {number} pitch  Hz @param {number} wait @param {number} length  seconds */
function note(context, pitch, wait, length) {
  const start = context.currentTime + wait;
  const tone = context.createOscillator();
  const level = context.createGain();
  tone.frequency.value = pitch;
  level.gain.setValueAtTime(0.25, start);
  level.gain.exponentialRampToValueAtTime(0.001, start + length);
  tone.connect(level).connect(context.destination);
  tone.start(start);
  tone.stop(start + length);
}

/** Hand a text file to the person: the share sheet where there is one, else a download.
 * @param {string} name @param {string} text */
export async function handOver(name, text) {
  const file = new File([text], name, { type: 'application/json' });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file], title: name });
      return;
    } catch (err) {
      if (err instanceof Error && err.name === 'AbortError') return; // the person changed their mind
    }
  }
  const address = URL.createObjectURL(file);
  const link = Object.assign(document.createElement('a'), { href: address, download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
