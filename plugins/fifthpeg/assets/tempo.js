/* Tempos a student may choose: whole beats a minute, from 30 % to 150 % of the full tempo. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.tempo) return;
  const time = fifthpeg.time || require("./time.js");

  const LEAST = [3, 10];
  const MOST = [3, 2];
  const NAMES = ["slow", "medium", "full"];

  /** {least, most, full, named: [{name, beats}]}: all beats a minute; named are the recordings' own. */
  function tempo(data) {
    const named = data.tempos.map((share, index) => ({ name: NAMES[index] || "", beats: beatsAt(data, share) }));
    const [least, most] = [Math.ceil(beats(data, LEAST)), Math.floor(beats(data, MOST))];
    return { least, most, full: beatsAt(data, [1, 1]), named };
  }

  /** Quarters a minute, exactly; the recordings' own where the beats are theirs, rounded. */
  function quartersPerMinute(data, beatsPerMinute) {
    const shares = [[1, 1], ...data.tempos];
    const share = shares.find((one) => beatsAt(data, one) === beatsPerMinute);
    return share ? time.times(data.qpm, share) : time.times([beatsPerMinute, 1], data.beat);
  }

  function beatsAt(data, share) {
    return time.beatsPerMinute(time.times(data.qpm, share), data.beat);
  }

  function beats(data, share) {
    return time.decimal(time.times(time.times(data.qpm, share), [data.beat[1], data.beat[0]]));
  }

  fifthpeg.tempo = Object.assign(tempo, { quartersPerMinute });
  if (typeof module === "object") module.exports = fifthpeg.tempo;
})(globalThis);
