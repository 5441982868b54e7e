/* One tab and what its student has chosen: from these the run asks how to go on. No sound and no page here. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.tab) return;
  const time = fifthpeg.time || require("./time.js");
  const tempo = fifthpeg.tempo || require("./tempo.js");
  const climb = fifthpeg.climb || require("./climb.js");
  const slots = fifthpeg.slots || require("./slots.js");
  const click = fifthpeg.click || require("./click.js");
  const score = fifthpeg.score || require("./score.js");
  const cursor = fifthpeg.cursor || require("./cursor.js");
  const settings = fifthpeg.settings || require("./settings.js");

  /** store as memory.js makes it. */
  function tab(data, store) {
    const row = slots(data);
    const tempos = tempo(data);
    const facts = { id: data.id, title: data.title, ...tempos, last: row.length - 1 };
    return {
      data, store, facts, slots: row,
      state: settings.recall(store, facts),
      scoreAt: score(data),
      steps: cursor.steps(data.notes),
      place: 0, // index of the slot where play begins
      base: { beats: tempos.full, pass: 0 }, // where the climb, or plain play, stands
      slowest: null, // of the pass under way
    };
  }

  /** As stretch.js has them. */
  function wishes({ data, state, slots: row, base }) {
    const beats = (pass) => (state.climbing ? climb({ ...state, from: base.beats }, pass - base.pass) : base.beats);
    return {
      tempoAt: (pass) => tempo.quartersPerMinute(data, beats(pass)),
      loop: state.looping ? { from: row[state.first].at, to: row[state.last].end } : null,
      end: data.quarters,
    };
  }

  /**
   * As run.js has them. At 100 per cent guitar and bass are as loud as in the recordings, and the page's gain is made
   * for that. All is lowered by what comes on top, so that together they stay below full scale: by the louder of the
   * two, and by the click's peak. The count sounds alone.
   */
  function levels({ data, state }) {
    const stems = data.stems || [];
    const share = (part, on) => (on ? state[`${part}Level`] / 100 : 0);
    const clicks = share(score.CLICK, state.click);
    const all = 1 / (Math.max(1, ...stems.map(({ name }) => share(name, state.backing))) + clicks * click.PEAK);
    const lick = state.muted && data.stems ? 0 : 1;
    return {
      all, [score.LICK]: lick, [score.CLICK]: clicks, [score.COUNT]: share(score.COUNT, true),
      ...Object.fromEntries(stems.map(({ name, gain }) => [name, gain * share(name, state.backing)])),
    };
  }

  /** The stems that are not silent. */
  function heardStems(one) {
    const loud = levels(one);
    return (one.data.stems || []).filter(({ name }) => loud[name] > 0);
  }

  /** "Loop: bar 1, beat 1 up to and including bar 2, beat 4" */
  function loopWords({ state, slots: row }) {
    if (!state.looping) return "No loop: the tab plays to its end.";
    if (state.first === 0 && state.last === row.length - 1) return "The whole goes round.";
    return `From ${row[state.first].words} up to and including ${row[state.last].words}.`;
  }

  /** The written slots a loop covers. */
  function shaded({ state, slots: row }) {
    return state.looping ? row.slice(state.first, state.last + 1).map(({ bar, slot }) => [bar, slot]) : [];
  }

  /** "link 2 of 3, Sluice tag" at a moment in quarters; nothing outside chains. */
  function linkWords({ data }, quarters) {
    const links = data.links || [];
    const index = links.filter((link) => time.decimal(link.start) <= quarters).length - 1;
    if (!links.length) return "";
    return `link ${Math.max(index, 0) + 1} of ${links.length}, ${links[Math.max(index, 0)].title}`;
  }

  /** Keeps count of a pass played through from the first slot to the end (or to the way out): its slowest tempo. */
  function passed(one, stretch) {
    const beats = time.beatsPerMinute(stretch.tempo, one.data.beat);
    one.slowest = one.slowest === null ? beats : Math.min(one.slowest, beats);
  }

  /** The pass is over, its last stretch is given. Gives whether there is a new best. */
  function finished(one, stretch) {
    const slowest = one.slowest;
    one.slowest = null;
    const end = one.data.exit || one.data.quarters;
    const whole = stretch.kind === "play" && stretch.since[0] === 0 && time.compare(stretch.to, end) >= 0;
    if (!whole || slowest === null || slowest <= one.state.best || one.state.muted) return false;
    one.state.best = slowest;
    return true;
  }

  /** Whether a stretch ends a pass that went from the beginning of the loop, or of the tab, to its end. */
  function playedThrough({ state, slots: row }, stretch) {
    const beginnings = [row[0].at, ...(state.looping ? [row[state.first].at] : [])];
    return stretch.kind === "play" && beginnings.some((at) => time.compare(stretch.since, at) === 0);
  }

  /** Whether the choices could be kept, with a pass more where one has been played through on this day. */
  function keep({ store, facts, state }, day = "") {
    return settings.keep(store, facts, state, day);
  }

  fifthpeg.tab = Object.assign(tab, {
    wishes, levels, heardStems, loopWords, shaded, linkWords, passed, finished, playedThrough, keep,
  });
  if (typeof module === "object") module.exports = fifthpeg.tab;
})(globalThis);
