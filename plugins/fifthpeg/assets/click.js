/* The click: a short wooden tick, made here, higher and louder on a bar's first beat.
 *
 * Sample i of a tick at rate r is level · sin(2π·pitch·i/r) · exp(−i/(r·DECAY_SECONDS)), begun along a straight
 * line of RISE_SECONDS and ended by another of the same length, so that it starts and stops at nothing. The
 * recordings' own ticks are these.
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.click) return;

  const LENGTH_SECONDS = 0.05;
  const RISE_SECONDS = 0.001;
  const DECAY_SECONDS = 0.008;
  const FIRST = { pitchHz: 1760, level: 0.3 };
  const OTHER = { pitchHz: 1175, level: 0.2 };

  /** room: the frames it has, where it must be over before its time. */
  function click(first, rateHz, room = Infinity) {
    const { pitchHz, level } = first ? FIRST : OTHER;
    const frames = Math.min(Math.round(LENGTH_SECONDS * rateHz), room);
    return Float32Array.from({ length: frames }, (_, i) => {
      const edge = Math.min(1, i / (RISE_SECONDS * rateHz), (frames - 1 - i) / (RISE_SECONDS * rateHz));
      return level * edge * Math.sin((2 * Math.PI * pitchHz * i) / rateHz) * Math.exp(-i / (DECAY_SECONDS * rateHz));
    });
  }

  fifthpeg.click = Object.assign(click, { PEAK: FIRST.level });
  if (typeof module === "object") module.exports = fifthpeg.click;
})(globalThis);
