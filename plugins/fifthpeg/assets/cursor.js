/* Which written notes sound at a given moment: values in, values out, no clock and no page. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.cursor) return;
  const time = fifthpeg.time || require("./time.js");

  const LONGEST_GUESS_SECONDS = 0.25;
  // A page that was asleep must not throw the cursor ahead of a sound card that slept too.

  /**
   * The lick as a row of steps {at, quarters, notes}: from there until the next step these notes
   * are on, none during a rest. A note is on for its written length; a string that rings past it
   * is no longer what the hands are doing. quarters is at as a number.
   */
  function steps(notes) {
    const spans = notes.map((note) => ({ note, from: time.times(note.start, [1, 1]), to: time.plus(note.start, note.length) }));
    const edges = new Map();
    for (const span of spans) for (const at of [span.from, span.to]) edges.set(at.join("/"), at);
    const row = [...edges.values()].sort(time.compare).map((at) => ({ at, quarters: time.decimal(at), notes: [] }));
    const places = new Map(row.map((step, index) => [step.at.join("/"), index]));
    for (const span of spans) {
      const [first, end] = [span.from, span.to].map((at) => places.get(at.join("/")));
      for (let index = first; index < end; index += 1) row[index].notes.push(span.note);
    }
    return row;
  }

  /** Index of the last of row (rising by the number called key) at or before value, -1 before the first. */
  function indexAt(row, key, value) {
    let low = 0;
    let high = row.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (row[middle][key] <= value) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }

  /** The notes on at a moment, of those played since another (both in quarters). */
  function notesAt(row, quarters, since) {
    const step = row[indexAt(row, "quarters", quarters)];
    return step ? step.notes.filter((note) => time.decimal(note.start) >= since) : [];
  }

  /**
   * The context's time that is coming out of the loudspeaker now.
   * stamp is an AudioContext's output timestamp {contextTime s, performanceTime ms} or null;
   * nowMs is performance.now(); currentTime and latency (s) stand in where there is no stamp yet.
   */
  function heardSeconds(stamp, nowMs, currentTime, latency) {
    if (!stamp || !(stamp.performanceTime > 0)) return currentTime - (latency || 0);
    const since = (nowMs - stamp.performanceTime) / 1000;
    return stamp.contextTime + Math.min(Math.max(since, 0), LONGEST_GUESS_SECONDS);
  }

  fifthpeg.cursor = Object.freeze({ steps, indexAt, notesAt, heardSeconds });
  if (typeof module === "object") module.exports = fifthpeg.cursor;
})(globalThis);
