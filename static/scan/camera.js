// The phone's camera: which lens, how it is asked for, its light, and what to say when there is no picture.

import { NoPicture } from './trouble.js';

/** What some phones can do with a camera, and TypeScript's library does not name.
 * @typedef {{torch?: boolean, focusMode?: string[], zoom?: {min: number, max: number}}} Abilities */

const LENS = 'facemark-lens';

/** A stream of the rear camera, or of the lens that was chosen.  Rejects with NoPicture.
 * @param {string} lens  a device id, or '' for the phone's own choice @param {MediaDevices | undefined} devices */
export async function openCamera(lens, devices) {
  if (!globalThis.isSecureContext) throw new NoPicture('insecure');
  if (!devices?.getUserMedia) throw new NoPicture('no-camera');
  const size = { width: { ideal: 1920 }, height: { ideal: 1080 } };
  /** @param {MediaTrackConstraints} which */
  const ask = (which) => devices.getUserMedia({ audio: false, video: { ...which, ...size } });
  try {
    if (!lens) return await ask({ facingMode: { ideal: 'environment' } });
    // The lens may be gone: another phone's backup, or the browser has renumbered its devices.
    return await ask({ deviceId: { exact: lens } }).catch((err) => {
      if (nameOf(err) === 'NotAllowedError') throw err;
      return ask({ facingMode: { ideal: 'environment' } });
    });
  } catch (err) {
    throw new NoPicture(['NotAllowedError', 'SecurityError'].includes(nameOf(err)) ? 'refused' : 'no-camera');
  }
}

/** @param {unknown} err */
const nameOf = (err) => (err instanceof Error || err instanceof DOMException ? err.name : '');

/** @param {MediaStreamTrack | undefined} track @returns {Abilities} */
export const abilities = (track) => /** @type {Abilities} */ (track?.getCapabilities?.() ?? {});

/** Set for labels at 15 to 20 cm, as far as the camera can: focus that follows, and twice as near, because the lens
 * that phones open first often cannot focus closer.  What it cannot do stays as it is.
 * @param {MediaStreamTrack} track */
export async function setForLabels(track) {
  const { focusMode, zoom } = abilities(track);
  if (focusMode?.includes('continuous')) await apply(track, { focusMode: 'continuous' });
  if (zoom && zoom.max >= 2) await apply(track, { zoom: Math.max(2, zoom.min) });
}

/** Whether the camera did what was asked.
 * @param {MediaStreamTrack} track @param {Record<string, unknown>} wish */
export async function apply(track, wish) {
  try {
    await track.applyConstraints({ advanced: [/** @type {MediaTrackConstraintSet} */ (wish)] });
    return true;
  } catch {
    return false;
  }
}

/** The rear lenses that can be chosen; names are there only once the camera has been allowed.
 * @param {MediaDevices} devices @returns {Promise<{id: string, name: string}[]>} */
export async function rearLenses(devices) {
  const cameras = (await devices.enumerateDevices()).filter(({ kind, deviceId }) => kind === 'videoinput' && deviceId);
  const rear = cameras.filter(({ label }) => !/front|user|selfie/i.test(label));
  const offered = rear.length ? rear : cameras;
  return offered.map(({ deviceId, label }, at) => ({ id: deviceId, name: label || `Lens ${at + 1}` }));
}

/** The lens chosen last, or ''. */
export function chosenLens() {
  try {
    return localStorage.getItem(LENS) ?? '';
  } catch {
    return '';
  }
}

/** @param {string} id */
export function chooseLens(id) {
  try {
    localStorage.setItem(LENS, id);
  } catch {
    // A browser that keeps nothing opens its own choice again the next time.
  }
}
