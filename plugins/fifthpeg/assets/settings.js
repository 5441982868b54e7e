/* What a student has chosen: for all tabs of the site, and for one lick. Read with suspicion, kept as chosen. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.settings) return;
  const { whole } = fifthpeg.memory || require("./memory.js");
  const progress = fifthpeg.progress || require("./progress.js");

  const EVERYWHERE = {
    counted: false, countLevel: 100, click: false, clickLevel: 100, backing: true, guitarLevel: 100, bassLevel: 100,
    letters: true, follow: false,
  };
  const MOST_LEVEL = 200; // per cent of a part's own level
  const MOST_PASSES = 99;
  const MOST_STEP = 50;

  /**
   * facts: {id, least, most, full, last}: beats a minute a student may choose, the index of the last slot.
   * Gives {counted, countLevel, click, clickLevel, backing, guitarLevel, bassLevel, letters, follow, muted, beats,
   * looping, first, last, climbing, from, step, passes, goal, best}; levels in per cent, first and last are indexes
   * of slots, best 0 where there is none yet.
   */
  function recall(store, facts) {
    const { id, least, most, full, last } = facts;
    const everywhere = withBothLevels(store.read("settings"));
    const own = id ? store.read(progress.nameOf(id)) : {};
    const state = { muted: false };
    for (const [name, usual] of Object.entries(EVERYWHERE)) {
      state[name] = typeof usual === "boolean" ? yesOrNo(everywhere[name], usual) : whole(everywhere[name], 0, MOST_LEVEL, usual);
    }
    state.beats = whole(own.beats, least, most, full);
    state.looping = yesOrNo(own.looping, false);
    state.first = whole(own.first, 0, last, 0);
    state.last = whole(own.last, state.first, last, last);
    state.climbing = yesOrNo(own.climbing, false);
    state.from = whole(own.from, least, most, Math.max(least, Math.round(full / 2)));
    state.step = whole(own.step, 1, MOST_STEP, 5);
    state.passes = whole(own.passes, 1, MOST_PASSES, 2);
    state.goal = whole(own.goal, least, most, full);
    state.best = whole(own.best, least, most, 0);
    return state;
  }

  /**
   * Whether both could be kept. What is kept of a lick: its settings, and its progress. That is joined with what is
   * kept already: another page may have come further meanwhile. day is given where a pass has just been played.
   */
  function keep(store, { id, title, full }, state, day = "") {
    const everywhere = Object.fromEntries(Object.keys(EVERYWHERE).map((name) => [name, state[name]]));
    if (!store.write("settings", everywhere)) return false;
    return !id || store.write(progress.nameOf(id), ownOf(store, { id, title, full }, state, day));
  }

  function ownOf(store, { id, title, full }, state, day) {
    const { beats, looping, first, last, climbing, from, step, passes, goal, best } = state;
    const now = progress({ title, full, best });
    const reached = progress.joined(now, progress(store.read(progress.nameOf(id))));
    const played = day ? progress.onceMore(reached, day) : reached;
    return { beats, looping, first, last, climbing, from, step, passes, goal, ...played };
  }

  /** What holds for all tabs, from one to another; whether anything is new to that one. */
  function share(state, other) {
    const fresh = Object.keys(EVERYWHERE).filter((name) => other[name] !== state[name]);
    for (const name of fresh) other[name] = state[name];
    return fresh.length > 0;
  }

  /** Guitar and bass once had one level between them: it is taken for each. */
  function withBothLevels({ level, ...kept }) {
    return { guitarLevel: level, bassLevel: level, ...kept };
  }

  function yesOrNo(value, otherwise) {
    return typeof value === "boolean" ? value : otherwise;
  }

  fifthpeg.settings = Object.freeze({ recall, keep, share, MOST_LEVEL, MOST_PASSES, MOST_STEP });
  if (typeof module === "object") module.exports = fifthpeg.settings;
})(globalThis);
