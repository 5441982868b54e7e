/* The slots of a lick as they are played, in words, and runs of them. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.slots) return;
  const time = fifthpeg.time || require("./time.js");

  const HALVES = 2;

  /** [{index, bar, slot, pass, at, end, words}]: slot counts from 1 in its bar; at and end are exact quarters. */
  function slots(data) {
    const row = data.bars.flatMap((bar) => bar.slots.map((at, index) =>
      ({ bar: bar.bar, slot: bar.first + index, pass: bar.pass, at, words: words(bar, at, index, data) })));
    row.forEach((one, index) => {
      one.index = index;
      one.end = index + 1 < row.length ? row[index + 1].at : data.quarters;
    });
    return row;
  }

  /** "bar 2, the and of beat 1" */
  function words(bar, at, index, data) {
    const barline = time.compare(bar.barline, bar.slots[0]) > 0 ? time.less(bar.barline, data.full_bar) : bar.barline;
    const beatOf = (moment) => Math.floor(time.decimal(time.times(time.less(moment, barline), [data.beat[1], data.beat[0]])));
    const beat = beatOf(at);
    const inBeat = bar.slots.filter((other) => beatOf(other) === beat);
    const part = inBeat.findIndex((other) => time.compare(other, at) === 0);
    const onBeat = time.compare(time.times(data.beat, [beat, 1]), time.less(at, barline)) === 0;
    const again = bar.pass > 1 ? `, time ${bar.pass}` : "";
    return `${bar.bar ? `bar ${bar.bar}` : "pick-up"}, ${place(beat + 1, onBeat, part, inBeat.length)}${again}`;
  }

  function place(beat, onBeat, part, parts) {
    if (onBeat) return `beat ${beat}`;
    return parts <= HALVES ? `the and of beat ${beat}` : `beat ${beat}, slot ${part + 1}`;
  }

  /** Index of the slot a moment (exact quarters) lies in. */
  function indexAt(row, quarters) {
    let found = 0;
    for (const one of row) if (time.compare(one.at, quarters) <= 0) found = one.index;
    return found;
  }

  /** Index of a written slot as first played at or after an index; -1 where it is not. */
  function find(row, bar, slot, from = 0) {
    return row.findIndex((one) => one.index >= from && one.bar === bar && one.slot === slot);
  }

  /** [first, last] of the bar a slot lies in, as it is played there. */
  function barOf(row, index) {
    const inside = row.filter((one) => one.bar === row[index].bar && one.pass === row[index].pass);
    return [inside[0].index, inside[inside.length - 1].index];
  }

  fifthpeg.slots = Object.assign(slots, { indexAt, find, barOf });
  if (typeof module === "object") module.exports = fifthpeg.slots;
})(globalThis);
