/* What a student has chosen: for all tabs of the site, and for one lick. Read with suspicion, kept as chosen. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.settings) return;
  const { whole } = fifthpeg.memory || require("./memory.js");

  const EVERYWHERE = { counted: false, click: false, backing: true, level: 100, letters: true, follow: false };
  const MOST_LEVEL = 200; // per cent of the backing's own level in the recordings
  const MOST_PASSES = 99;
  const MOST_STEP = 50;

  /**
   * facts: {id, least, most, full, last}: beats a minute a student may choose, the index of the last slot.
   * Gives {counted, click, backing, level, letters, follow, muted, beats, looping, first, last, climbing, from,
   * step, passes, goal, best}; first and last are indexes of slots, best 0 where there is none yet.
   */
  function recall(store, facts) {
    const { id, least, most, full, last } = facts;
    const everywhere = store.read("settings");
    const own = id ? store.read(nameOf(id)) : {};
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

  /** Whether both could be kept. What is kept of a lick: its settings, its best, its full tempo and its title. */
  function keep(store, { id, title, full }, state) {
    const everywhere = Object.fromEntries(Object.keys(EVERYWHERE).map((name) => [name, state[name]]));
    const { beats, looping, first, last, climbing, from, step, passes, goal, best } = state;
    const own = { title, full, beats, looping, first, last, climbing, from, step, passes, goal, best };
    return store.write("settings", everywhere) && (!id || store.write(nameOf(id), own));
  }

  function nameOf(id) {
    return `lick/${id}`;
  }

  function yesOrNo(value, otherwise) {
    return typeof value === "boolean" ? value : otherwise;
  }

  fifthpeg.settings = Object.freeze({ recall, keep, MOST_LEVEL, MOST_PASSES, MOST_STEP });
  if (typeof module === "object") module.exports = fifthpeg.settings;
})(globalThis);
