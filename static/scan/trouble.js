// Why there is nothing to read: one sentence each, and what to do.  Typing a code always works.

/** @typedef {'no-camera' | 'refused' | 'insecure' | 'ended' | 'no-decoder'} Trouble */

export const SENTENCES = Object.freeze({
  'no-camera': 'No camera is free on this device: close what else uses it, or type the code.',
  refused: "The camera is not allowed: allow it for this page in the browser's settings, or type the code.",
  insecure: 'The camera needs the https address that the office shows: open that one, or type the code.',
  ended: 'The camera has stopped. Touch here to start it again, or type the code.',
  rests: 'The camera rests after a minute without a label. Touch here to wake it.',
  'no-decoder': 'The label reader could not be loaded. Open the app once with a signal, or type the code.',
});

/** There is no picture. */
export class NoPicture extends Error {
  /** @param {Trouble} kind */
  constructor(kind) {
    super(SENTENCES[kind]);
    this.name = 'NoPicture';
    this.kind = kind;
  }
}

/** There is nobody to read: the worker or its decoder cannot be loaded, or died. */
export class NoDecoder extends Error {
  /** @param {string} [why]  for whoever debugs it */
  constructor(why) {
    super(SENTENCES['no-decoder'], { cause: why });
    this.name = 'NoDecoder';
  }
}
