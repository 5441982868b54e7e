/* The page's way to the loudspeaker: one audio context a rate, woken by the press itself. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.output) return;
  const cursor = fifthpeg.cursor || require("./cursor.js");

  const WAKE_PATIENCE_MS = 3000;
  const REFUSED = "This browser would not start its sound.";
  const IDLE_MS = 20000; // then the sound card may sleep; a phone's battery thanks us
  const contexts = new Map();
  let idle = 0;

  /**
   * Call inside the press, before any waiting: browsers allow sound to the press alone.
   * Resolves to {context} or, where the browser refuses, {says: a sentence}; never rejects.
   */
  async function wake(rateHz) {
    root.clearTimeout(idle);
    try {
      const context = contextAt(rateHz);
      if (context.state !== "running") await Promise.race([context.resume(), patience()]);
      return context.state === "running" ? { context } : { says: REFUSED };
    } catch {
      return { says: REFUSED };
    }
  }

  /** Nothing plays any more: the contexts go to sleep after a while. */
  function rest() {
    root.clearTimeout(idle);
    idle = root.setTimeout(() => contexts.forEach((context) => context.suspend()), IDLE_MS);
  }

  /** The context's time now coming out of the loudspeaker, in seconds. */
  function heardSeconds(context) {
    const stamp = context.getOutputTimestamp ? context.getOutputTimestamp() : null;
    return cursor.heardSeconds(stamp, root.performance.now(), context.currentTime, context.outputLatency);
  }

  function contextAt(rateHz) {
    if (!contexts.has(rateHz)) contexts.set(rateHz, newContext(rateHz));
    return contexts.get(rateHz);
  }

  function newContext(rateHz) {
    const Context = root.AudioContext || root.webkitAudioContext;
    try {
      return new Context({ sampleRate: rateHz, latencyHint: "interactive" });
    } catch {
      return new Context(); // a sound card that keeps its own rate: the browser resamples
    }
  }

  function patience() {
    return new Promise((resolve) => setTimeout(resolve, WAKE_PATIENCE_MS));
  }

  fifthpeg.output = Object.freeze({ wake, rest, heardSeconds });
  if (typeof module === "object") module.exports = fifthpeg.output;
})(globalThis);
