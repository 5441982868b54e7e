/* Which sound plays from which frame to which, how loud, at what rate: the gesture arithmetic.
 *
 * The rules F1 to P4 are written out at the top of sound/voices.py, which makes the recordings;
 * this is the same arithmetic for the browser, held equal by a test. Numbers here carry its names.
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.voices) return;
  const time = fifthpeg.time || require("./time.js");

  const QUANTUM = 128;
  const ACCENT_GAIN = 1.4;
  const SHADE_US = 90;
  const PLAIN_HAND = [1, 0, 0];
  const DAMP_MS = 4;
  const HAND_OVER_MS = 5;
  const LIFT_MS = 25;
  const RING_OUT_MS = 1000;
  const SLIDE_MS = 90;
  const CHOKE_MS = 150;
  const VIBRATO_SEMITONES = 0.15;
  const VIBRATO_HZ = 5.5;
  const VIBRATO_DELAY_MS = 100;

  /**
   * Every source of a performance at one tempo, string by string from the first.
   * data is the page's own: {notes, quarters, …}. A voice is {sound, start, ramp, end, gain,
   * rates, shade, shadeFrames}: it plays from frame start, falls from ramp, is silent from end; rates are
   * [frame, rate], 1 before the first. A note's hand is its [gain, shade, milliseconds late in a brush].
   */
  function voices(data, quartersPerMinute, rateHz) {
    const endOfAll = time.frameOf(data.quarters, quartersPerMinute, rateHz);
    return byString(data.notes, quartersPerMinute, rateHz).flatMap((cues) =>
      sources(cues).map(([source, following]) => voice(source, following, endOfAll, rateHz)));
  }

  /** Where to begin so that a note is heard: its own start, or that of the source it belongs to. */
  function startOf(notes, mark) {
    const note = notes.find((one) => one.mark === mark);
    const earlier = notes.filter((one) => one.string === note.string && time.compare(one.start, note.start) <= 0);
    return (earlier.filter(beginsSource).pop() || note).start;
  }

  /** Rule S1: all but a choke of a string that rings. */
  function beginsSource(note) {
    return note.picked || note.touch !== "choke";
  }

  function framesIn(milliseconds, rateHz) {
    return Math.floor((2 * milliseconds * rateHz + 1000) / 2000);
  }

  function framesInUs(microseconds, rateHz) {
    return Math.floor((2 * microseconds * rateHz + 1e6) / 2e6);
  }

  function handOf(note) {
    return note.hand || PLAIN_HAND;
  }

  function byString(notes, quartersPerMinute, rateHz) {
    const frame = (at) => time.frameOf(at, quartersPerMinute, rateHz);
    const strings = [[], [], [], [], []];
    for (const note of notes) {
      const beat = frame(note.start);
      const written = frame(time.plus(note.start, note.length)) - beat;
      const late = handOf(note)[2];
      const start = late ? beat + Math.min(framesIn(late, rateHz), Math.floor(written / 2)) : beat; // rule B1
      strings[note.string - 1].push({ note, beat, start, until: frame(note.until), written });
    }
    return strings;
  }

  /** [the notes one source plays, the note whose source comes next or null], rule S1. */
  function sources(cues) {
    const found = [];
    for (const cue of cues) {
      const current = found[found.length - 1];
      if (beginsSource(cue.note)) {
        if (current) current[1] = cue;
        found.push([[cue], null]);
      } else if (current) current[0].push(cue);
    }
    return found;
  }

  /** Rules S2 and S3. */
  function voice(source, following, endOfAll, rateHz) {
    const { note, start } = source[0];
    const stop = source[source.length - 1].until;
    const meets = following !== null && following.beat === stop;
    const damped = meets && following.note.picked;
    const fallMs = meets ? HAND_OVER_MS : stop === endOfAll ? RING_OUT_MS : LIFT_MS;
    const end = damped ? following.start : stop + framesIn(fallMs, rateHz);
    const ramp = damped ? Math.max(start, end - framesIn(DAMP_MS, rateHz)) : stop;
    const slide = meets && following.note.touch === "slide" ? following : null;
    const [own, shade] = handOf(note);
    const gain = note.accent ? own * ACCENT_GAIN : own;
    const moves = rates(start, end, source, slide, rateHz);
    const shadeFrames = framesInUs(SHADE_US, rateHz);
    return { sound: note.sound, start, ramp, end, gain, rates: moves, shade, shadeFrames };
  }

  function rates(start, end, source, slide, rateHz) {
    const moves = chokes(source, rateHz);
    const passed = fretsPassed(source, slide, rateHz);
    const shaken = source.find((cue) => cue.note.vibrato);
    if (!moves.length && !passed.length && !shaken) return [];
    const shakenFrom = shaken ? shaken.start + framesIn(VIBRATO_DELAY_MS, rateHz) : Infinity;
    const found = [];
    let last = 0;
    for (let frame = (Math.floor(start / QUANTUM) + 1) * QUANTUM; frame < end; frame += QUANTUM) {
      const semitones = bentBy(moves, frame) + passedBy(passed, frame) + shakenBy(frame - shakenFrom, rateHz);
      if (semitones !== last) found.push([frame, 2 ** (semitones / 12)]);
      last = semitones;
    }
    return found;
  }

  /** Rule P2: from here to there in so many frames, along u²(3 − 2u). */
  function bentBy(moves, frame) {
    const move = moves.filter((one) => one.start <= frame).pop();
    if (!move) return 0;
    if (frame >= move.start + move.frames) return move.there;
    const share = (frame - move.start) / move.frames;
    return move.here + (move.there - move.here) * share * share * (3 - 2 * share);
  }

  function passedBy(passed, frame) {
    const fret = passed.filter((one) => one.at <= frame).pop();
    return fret ? fret.semitones : 0;
  }

  /** Rule P4. */
  function shakenBy(frames, rateHz) {
    return frames >= 0 ? VIBRATO_SEMITONES * Math.sin((2 * Math.PI * VIBRATO_HZ * frames) / rateHz) : 0;
  }

  /** Rules P2 and P3: the pitch's moves, in order. */
  function chokes(source, rateHz) {
    const moves = [];
    let stands = 0;
    for (const { note, start, written } of source) {
      const bend = note.bend[0] / note.bend[1];
      const frames = Math.min(framesIn(CHOKE_MS, rateHz), Math.floor(written / 3));
      const rises = bend > stands || (!note.release && bend !== stands && note.touch === "choke");
      if (rises) {
        moves.push({ start, frames, here: stands, there: bend });
        stands = bend;
      }
      if (note.release) {
        moves.push({ start: start + (rises ? Math.floor(written / 2) : 0), frames, here: stands, there: 0 });
        stands = 0;
      }
    }
    return moves;
  }

  /** Rule P1: the frets a slide passes, in semitones from the source's own pitch. */
  function fretsPassed(source, slide, rateHz) {
    const [from, to] = [source[0], slide].map((cue) => cue && midiOf(cue.note));
    if (from === null || to === null) return [];
    const count = Math.abs(to - from);
    const glide = Math.min(framesIn(SLIDE_MS, rateHz), Math.floor((slide.start - source[source.length - 1].start) / 2));
    const passed = [];
    for (let step = 1; step < count; step += 1) {
      const at = slide.start - Math.floor((glide * (count - step)) / count);
      passed.push({ at, semitones: Math.sign(to - from) * step });
    }
    return passed;
  }

  /** A sound is named string-midi-fret-touch; a damped one has no pitch. */
  function midiOf(note) {
    return note.touch === "damped" ? null : Number(note.sound.split("-")[1]);
  }

  fifthpeg.voices = Object.assign(voices, { startOf });
  if (typeof module === "object") module.exports = fifthpeg.voices;
})(globalThis);
