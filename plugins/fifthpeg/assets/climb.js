/* Climb: so many passes at a tempo, then a step faster, up to a goal. Beats a minute in, beats a minute out. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.climb) return;

  /** The tempo of a pass, counted from 0 since the climb stood at `from`. A climb never goes down to its goal. */
  function climb({ from, step, passes, goal }, pass) {
    const reached = from + step * Math.floor(pass / passes);
    return Math.max(from, Math.min(goal, reached));
  }

  fifthpeg.climb = climb;
  if (typeof module === "object") module.exports = fifthpeg.climb;
})(globalThis);
