/* What is to sound and when, at any tempo: the lick, what accompanies it, and the beats. No samples here. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.score) return;
  const time = fifthpeg.time || require("./time.js");
  const voices = fifthpeg.voices || require("./voices.js");

  const TEMPOS_KEPT = 8;
  const LICK = "lick";
  const CLICK = "click";
  const COUNT = "count";
  const PLAIN = { length: [0, 1], picked: true, bend: [0, 1] }; // what a stem's note is to the rules of voices.js

  /**
   * A function from a tempo to its events {part, start, voice} or {part, start, first}: start is the frame,
   * counted from quarter 0; first says whether a click is a bar's first. The same event has the same index at
   * every tempo. part is "lick", "click", or the name of a stem.
   */
  function score(data) {
    const beats = beatsOf(data, data.bars, data.quarters);
    const stems = (data.stems || []).map(({ name, notes }) => ({ name, notes: notes.map(asNote) }));
    return kept((quartersPerMinute) => [
      ...sounds(LICK, data.notes, data, quartersPerMinute),
      ...clicks(CLICK, beats, quartersPerMinute, data.rate),
      ...stems.flatMap(({ name, notes }) => sounds(name, notes, data, quartersPerMinute)),
    ]);
  }

  /** The same for the bar that is counted before a moment, and for what of that moment's own bar lies before it. */
  function countIn(data, from) {
    const beats = countBeats(data, from);
    return kept((quartersPerMinute) => clicks(COUNT, beats, quartersPerMinute, data.rate));
  }

  /** When counting begins, so as to be one whole bar ahead of the barline before from. */
  function countFrom(data, from) {
    return time.less(barlineBefore(data, from), data.full_bar);
  }

  function countBeats(data, from) {
    const start = countFrom(data, from);
    const barline = barlineBefore(data, from);
    const beats = [];
    for (const bar of [start, barline]) {
      const end = bar === start ? barline : from;
      for (let at = bar; time.compare(at, end) < 0; at = time.plus(at, data.beat)) beats.push({ at, first: at === bar });
    }
    return beats;
  }

  function barlineBefore(data, from) {
    const bar = data.bars.filter((one) => time.compare(one.slots[0], from) <= 0).pop() || data.bars[0];
    return before(bar, data);
  }

  /** A pick-up's barline comes after it: its beats are counted from the one before. */
  function before(bar, data) {
    return time.compare(bar.barline, bar.slots[0]) > 0 ? time.less(bar.barline, data.full_bar) : bar.barline;
  }

  function beatsOf(data, bars, quarters) {
    return bars.flatMap((bar, index) => {
      const [from, to] = [bar.slots[0], index + 1 < bars.length ? bars[index + 1].slots[0] : quarters];
      const barline = before(bar, data);
      const beats = [];
      for (let at = barline; time.compare(at, to) < 0; at = time.plus(at, data.beat)) {
        if (time.compare(at, from) >= 0) beats.push({ at, first: at === barline });
      }
      return beats;
    });
  }

  /** A stem's line is to it what a string is to the lick: its notes damp one another. */
  function asNote(note) {
    return { ...PLAIN, string: note.line, ...note };
  }

  function sounds(part, notes, data, quartersPerMinute) {
    return voices({ notes, quarters: data.quarters }, quartersPerMinute, data.rate)
      .map((voice) => ({ part, start: voice.start, voice }));
  }

  function clicks(part, beats, quartersPerMinute, rateHz) {
    return beats.map(({ at, first }) => ({ part, start: time.frameOf(at, quartersPerMinute, rateHz), first }));
  }

  function kept(make) {
    const made = new Map();
    return (quartersPerMinute) => {
      const key = quartersPerMinute.join("/");
      if (!made.has(key)) {
        if (made.size === TEMPOS_KEPT) made.delete(made.keys().next().value);
        made.set(key, make(quartersPerMinute));
      }
      return made.get(key);
    };
  }

  fifthpeg.score = Object.assign(score, { countIn, countFrom, LICK, CLICK, COUNT });
  if (typeof module === "object") module.exports = fifthpeg.score;
})(globalThis);
