/* A string sounds one note at a time, across the stretches too.
 *
 * Within a stretch the voices damp one another. Where a stretch meets the next, a string that rings on is damped
 * by the first note played on it there, over DAMP_SECONDS and to the frame.
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.strings) return;

  const DAMP_SECONDS = 0.004;

  /** Gives {channel(key, owner, when, output), undo(from)}; times in seconds of the context. */
  function strings(context) {
    const rows = new Map(); // a string's channels, the one that sounds last

    /** Where a note of owner (any value, one for each stretch) on string key is to be connected. */
    function channel(key, owner, when, output) {
      const row = rows.get(key) || [];
      rows.set(key, row);
      const last = row[row.length - 1];
      if (last && last.owner === owner) return last.node;
      if (last) damp(last, when);
      const node = context.createGain();
      node.connect(output);
      row.push({ node, owner, when, damped: Infinity });
      while (row.length > 2 && row[0].damped < context.currentTime - 1) row.shift().node.disconnect();
      return node;
    }

    /** Takes back the channels that would first sound at or after a moment; what they damped rings on. */
    function undo(from) {
      for (const row of rows.values()) {
        while (row.length && row[row.length - 1].when >= from) {
          row.pop().node.disconnect();
          const last = row[row.length - 1];
          if (!last) continue;
          last.node.gain.cancelScheduledValues(last.damped - DAMP_SECONDS);
          last.damped = Infinity;
        }
      }
    }

    function damp(one, when) {
      one.node.gain.setValueAtTime(1, Math.max(when - DAMP_SECONDS, 0));
      one.node.gain.linearRampToValueAtTime(0, when);
      one.damped = when;
    }

    /** Everything that rings falls silent at a moment. */
    function hush(when) {
      for (const row of rows.values()) if (row.length) damp(row[row.length - 1], when);
    }
    return { channel, undo, hush };
  }

  fifthpeg.strings = Object.assign(strings, { DAMP_SECONDS });
  if (typeof module === "object") module.exports = fifthpeg.strings;
})(globalThis);
