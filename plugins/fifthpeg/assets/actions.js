/* What a student may do with a tab: each action by a button, a key or the drawing comes here. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.actions) return;
  const slots = fifthpeg.slots || require("./slots.js");

  const QUICKEN_BEATS = 5;
  const SWITCHES = {
    counted: ["A bar is counted first.", "Nothing is counted first."],
    click: ["Click on.", "Click off."],
    backing: ["Backing on.", "Backing off."],
    muted: ["The lick is left out: play it yourself.", "The lick sounds."],
    letters: ["Right-hand letters shown.", "Right-hand letters hidden."],
    follow: ["The page follows the cursor.", "The page stays where it is."],
    climbing: ["Climb on.", "Climb off."],
  };

  /**
   * player: {toggle(), playFrom(index), place(), changed(jump), looped(), tempoMoved(), say(sentence),
   * changeOver(way), help()}, all of this tab; way as in beside.js; place() is the index of the slot that sounds, or
   * where play would begin.
   */
  function actions(tab, player) {
    const { state, facts, slots: row } = tab;
    const last = row.length - 1;
    function loop(first, end, on = true) {
      state.looping = on;
      [state.first, state.last] = [Math.min(first, end), Math.max(first, end)];
      player.looped(); // before what is said where nothing can be kept
      player.changed(true);
    }
    function tempo(beats) {
      state.beats = Math.min(Math.max(beats, facts.least), facts.most);
      player.tempoMoved();
    }
    function place(index) {
      tab.place = Math.min(Math.max(index, 0), last);
      player.placed();
    }
    const act = {
      press: player.toggle,
      other: () => player.changeOver("other"),
      before: () => player.changeOver("before"),
      after: () => player.changeOver("after"),
      help: player.help,
      tempo,
      quicken: (way) => tempo(player.beats() + way * QUICKEN_BEATS),
      faster: () => act.quicken(1),
      slower: () => act.quicken(-1),
      loop: () => loop(state.first, state.last, !state.looping),
      loopFrom: () => loop(player.place(), Math.max(player.place(), state.looping ? state.last : last)),
      loopUpTo: () => loop(Math.min(player.place(), state.looping ? state.first : 0), player.place()),
      loopBar: () => loop(...slots.barOf(row, player.place())),
      loopWhole: () => loop(0, last),
      loopToExit: () => loop(0, slots.indexAt(row, tab.data.exit) - 1),
      loopSlots: (from, to) => loop(from, to),
      place,
      go: (index) => player.go(index),
      barOn: (way) => act.jumpTo(neighbourBar(row, tab.place, way)),
      jumpTo: (index) => {
        place(index);
        player.go(tab.place);
      },
      playHere: () => player.playFrom(tab.place),
      level: (part, percent) => {
        state[`${part}Level`] = percent;
        player.changed();
      },
      number: (name, value) => {
        state[name] = value;
        player.changed();
      },
    };
    for (const [name, [on, off]] of Object.entries(SWITCHES)) {
      act[name] = () => {
        state[name] = !state[name];
        if (name === "climbing") startClimb();
        player.say(state[name] ? on : off);
        player.changed();
      };
    }
    /** A climb goes round: what is played is looped. */
    function startClimb() {
      if (!state.climbing) return;
      state.looping = true;
      tempo(state.from);
    }
    return act;
  }

  function neighbourBar(row, index, way) {
    const [first, last] = slots.barOf(row, index);
    if (way > 0) return Math.min(last + 1, row.length - 1);
    return index > first || first === 0 ? first : slots.barOf(row, first - 1)[0];
  }

  fifthpeg.actions = actions;
  if (typeof module === "object") module.exports = fifthpeg.actions;
})(globalThis);
