// The phone's camera: which lens, how it is asked for, its light, and what to say when there is no picture.

/** @typedef {'no-camera' | 'refused' | 'insecure' | 'ended' | 'no-decoder'} Trouble */
/** What some phones can do with a camera, and TypeScript's library does not name.
 * @typedef {MediaTrackCapabilities & {torch?: boolean, focusMode?: string[], zoom?: {min: number, max: number}}} Abilities */

/** One sentence each, and what to do. */
export const SENTENCES = Object.freeze({
  'no-camera': 'No camera is free on this device: close what else uses it, or type the code.',
  refused: "The camera is not allowed: allow it for this page in the browser's settings, or type the code.",
  insecure: 'The camera needs the https address that the office shows: open that one, or type the code.',
  ended: 'The camera has stopped. Touch here to start it again, or type the code.',
  rests: 'The camera rests after a minute without a label. Touch here to wake it.',
  'no-decoder': 'The label reader could not be loaded. Open the app once with a signal, or type the code.',
});

/** There is no picture, for a reason that a person can read. */
export class NoPicture extends Error {
  /** @param {Trouble} kind */
  constructor(kind) {
    super(SENTENCES[kind]);
    this.kind = kind;
  }
}

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
export const abilities = (track) => track?.getCapabilities?.() ?? {};

/** Set for labels at 15 to 20 cm, as far as the camera can: focus that follows, and twice as near, because the lens that
 * phones open first often cannot focus closer.  What it cannot do stays as it is.
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
  return (rear.length ? rear : cameras).map(({ deviceId, label }, at) => ({ id: deviceId, name: label || `Lens ${at + 1}` }));
}
