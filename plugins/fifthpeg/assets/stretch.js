/* The way through a lick, cut into stretches that are each played at one tempo from one place to another.
 *
 * A loop is a row of stretches; a change of tempo or of loop cuts the one under way and goes on with another.
 * Frames are whole and counted from the start of play at the data's own rate; places are exact fractions of
 * quarters. In a stretch, quarter q falls on frame offset + frameOf(q): the recordings' own rule.
 * Values in, values out.
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.stretch) return;
  const time = fifthpeg.time || require("./time.js");
  const cursor = fifthpeg.cursor || require("./cursor.js");

  /**
   * kind "count" or "play"; pass counts from 0; since is where the pass began, though a later change cut it.
   * left says which events are its own: those not before frame left.frame at tempo left.tempo. Kept at the tempo
   * that was in force when it was cut, so that rounding at another can neither drop a note nor play it twice.
   */
  function stretch(kind, { from, to, tempo, begin, pass = 0, since = from, left }, rateHz) {
    const first = time.frameOf(from, tempo, rateHz);
    const offset = begin - first;
    const end = offset + time.frameOf(to, tempo, rateHz);
    return { kind, from, to, tempo, begin, offset, end, pass, since, left: left || { tempo, frame: first }, rateHz };
  }

  /** wishes: {tempoAt(pass), loop: {from, to} or null, end}. countFrom is null where nothing is counted in. */
  function opening(from, countFrom, begin, wishes, rateHz) {
    const tempo = wishes.tempoAt(0);
    if (countFrom) return stretch("count", { from: countFrom, to: from, tempo, begin }, rateHz);
    return stretch("play", { from, to: endFrom(from, wishes), tempo, begin }, rateHz);
  }

  /** What comes after one stretch, without a gap; null at the end of all. */
  function following(one, wishes) {
    const { begin, pass, rateHz } = { ...one, begin: one.end };
    if (one.kind === "count") {
      const to = endFrom(one.to, wishes);
      return stretch("play", { from: one.to, to, tempo: wishes.tempoAt(pass), begin, pass }, rateHz);
    }
    const { loop } = wishes;
    if (!loop || time.compare(one.to, loop.to) !== 0) return null;
    return stretch("play", { ...loop, tempo: wishes.tempoAt(pass + 1), begin, pass: pass + 1 }, rateHz);
  }

  /** The rest of one from a frame on, as it is wished now. jump: into the loop, where the place lies outside it. */
  function recut(one, frame, wishes, jump) {
    const { kind, pass, rateHz, since } = one;
    const tempo = wishes.tempoAt(pass);
    const from = time.quartersAt(frame - one.offset, one.tempo, rateHz);
    const { loop } = wishes;
    const outside = loop && (time.compare(from, loop.from) < 0 || time.compare(from, loop.to) >= 0);
    if (kind === "play" && jump && outside) return stretch(kind, { ...loop, tempo, begin: frame, pass }, rateHz);
    const to = kind === "count" ? one.to : endFrom(from, wishes);
    const left = { tempo: one.tempo, frame: frame - one.offset };
    return stretch(kind, { from, to, tempo, begin: frame, pass, since, left }, rateHz);
  }

  /** The events of a score that a stretch plays, in order, each with its frame `at`. */
  function eventsOf(one, scoreAt) {
    const bounds = scoreAt(one.left.tempo);
    const end = one.end - one.offset;
    return scoreAt(one.tempo)
      .filter((event, index) => bounds[index].start >= one.left.frame && event.start < end)
      .map((event) => ({ ...event, at: one.offset + event.start }))
      .sort((event, other) => event.at - other.at);
  }

  /** Which stretch a frame (fractions allowed) falls in, and where: {stretch, quarters}, or null before the first. */
  function placeAt(stretches, frame) {
    const one = stretches[cursor.indexAt(stretches, "begin", frame)];
    if (!one) return null;
    const perFrame = time.decimal(one.tempo) / (60 * one.rateHz);
    const quarters = (Math.min(frame, one.end) - one.offset) * perFrame;
    return { stretch: one, quarters: Math.max(quarters, time.decimal(one.from)) };
  }

  function endFrom(from, { loop, end }) {
    return loop && time.compare(from, loop.to) < 0 ? loop.to : end;
  }

  fifthpeg.stretch = Object.freeze({ opening, following, recut, eventsOf, placeAt });
  if (typeof module === "object") module.exports = fifthpeg.stretch;
})(globalThis);
