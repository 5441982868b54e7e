/* Who plays: one tab on a page at a time. Sound is fetched, started, changed, followed and stopped here. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.stage) return;
  const { time, progress, tab: tabs, bank, output, run: runs } = fifthpeg;

  const FETCHING = "Fetching the sounds …";
  const FALL_BACK = "The recordings below still play.";
  const BACKING_PATIENCE_MS = 250; // a backing that is at hand comes in with the lick; a slow one when it has arrived
  const ZERO = [0, 1];
  let playing = null;
  let presses = 0;

  /** Plays a tab from a moment (exact quarters). joining: what another tab's run left, to go on without a gap. */
  async function play(tab, from, { joining = null, counted = tab.state.counted, pass = 0 } = {}) {
    stop();
    playing = tab;
    const press = (presses += 1);
    for (const audio of root.document.querySelectorAll(".fp-recordings audio")) audio.pause();
    tab.base = { beats: tab.state.beats, pass };
    tab.slowest = null;
    tab.view.playing(true);
    tab.view.say(FETCHING);
    const [awake, loaded] = await Promise.all([output.wake(tab.data.rate), fetchSounds(tab)]);
    if (press !== presses || playing !== tab) return;
    const trouble = awake.says || loaded.says;
    if (trouble) return giveUp(tab, trouble);
    tab.view.say("");
    tab.buffers = loaded.buffers;
    const backing = fetchBacking(tab);
    if (!joining) await Promise.race([backing, patience()]);
    if (press === presses && playing === tab) begin(tab, awake.context, { from, joining, counted });
  }

  function patience() {
    return new Promise((resolve) => root.setTimeout(resolve, BACKING_PATIENCE_MS));
  }

  function begin(tab, context, { from, joining, counted }) {
    tab.context = context;
    tab.run = runs(context, {
      data: tab.data, scoreAt: tab.scoreAt, buffers: tab.buffers, from, joining, counted,
      wishes: () => tabs.wishes(tab),
      levels: () => tabs.levels(tab),
      onEnd: () => playing === tab && stop(),
    });
    tab.shown = null;
    follow(tab, tab.run);
  }

  function follow(tab, run) {
    if (tab.run !== run) return;
    const heard = run.placeAt(output.heardSeconds(tab.context));
    if (heard) tab.heard = heard;
    if (heard && heard.stretch !== tab.shown) turn(tab, heard.stretch);
    if (heard) tab.view.at(heard);
    root.requestAnimationFrame(() => follow(tab, run));
  }

  /** The loudspeaker has come to another stretch. */
  function turn(tab, stretch) {
    if (tab.shown && tab.shown.pass !== stretch.pass) endPass(tab);
    tab.shown = stretch;
    if (stretch.kind === "play") tabs.passed(tab, stretch);
    tab.view.tempo(time.beatsPerMinute(stretch.tempo, tab.data.beat));
  }

  function endPass(tab) {
    const best = tabs.finished(tab, tab.shown);
    const day = tabs.playedThrough(tab, tab.shown) ? progress.dayOf(new Date()) : "";
    if (best || day) tab.view.kept(tabs.keep(tab, day));
  }

  function stop() {
    if (!playing) return;
    const tab = playing;
    playing = null;
    presses += 1;
    if (tab.run) tab.run.stop();
    if (tab.heard && hasEnded(tab)) endPass(tab);
    tab.run = tab.heard = tab.shown = null;
    output.rest();
    tab.view.playing(false);
    tab.view.say("");
  }

  function hasEnded({ heard, shown, data }) {
    return shown && time.compare(shown.to, data.quarters) === 0 && heard.quarters >= time.decimal(shown.to);
  }

  function giveUp(tab, trouble) {
    stop();
    tab.view.giveUp(trouble, FALL_BACK);
  }

  /** The tab's choices have changed, perhaps while it plays. jump: into the loop. */
  function changed(tab, jump) {
    if (!tab.run) return;
    fetchBacking(tab);
    tab.run.setLevels();
    tab.run.change(jump);
  }

  function tempoMoved(tab) {
    tab.base = { beats: tab.state.beats, pass: tab.heard ? tab.heard.stretch.pass : 0 };
    if (tab.run) tab.run.change();
  }

  /** The other tab goes on from this one's place, at this one's tempo and loop. */
  function changeOver(tab, other) {
    const leaving = tab.run && playing === tab ? tab.run.leave() : null;
    const { beats, looping, first, last } = tab.state;
    const end = other.slots.length - 1;
    const clamp = (value, least, most) => Math.min(Math.max(value, least), most);
    const loop = looping ? { looping, first: clamp(first, 0, end), last: clamp(last, 0, end) } : { looping };
    Object.assign(other.state, loop, { beats: clamp(beats, other.facts.least, other.facts.most) });
    other.view.refresh();
    if (!leaving) return;
    tab.run = null; // it has made its own end
    const within = time.compare(leaving.from, other.data.quarters) < 0;
    play(other, within ? leaving.from : ZERO, { joining: leaving.joining, counted: false });
  }

  function fetchSounds({ folder, names, data }) {
    return bank.load(folder, names, data.rate);
  }

  /** A student comes near: the lick's sounds, and after them the backing's. */
  async function prepare(tab) {
    await fetchSounds(tab);
    await bank.load(tab.folder, backingNames(tab), tab.data.rate);
  }

  /** An accompaniment comes in when it has arrived; nothing waits long for it. */
  async function fetchBacking(tab) {
    const { buffers, says } = await bank.load(tab.folder, backingNames(tab), tab.data.rate);
    if (says) tab.view.say(says);
    for (const [name, buffer] of buffers) if (buffer && tab.buffers) tab.buffers.set(name, buffer);
  }

  function backingNames(tab) {
    return [...new Set(tabs.heardStems(tab).flatMap((stem) => stem.notes.map((note) => note.sound)))];
  }

  function isPlaying(tab) {
    return playing === tab;
  }

  fifthpeg.stage = Object.freeze({ play, stop, changed, tempoMoved, changeOver, prepare, isPlaying });
  if (typeof module === "object") module.exports = fifthpeg.stage;
})(globalThis);
