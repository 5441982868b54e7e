/* The player under every tab: play and stop, three tempos, the cursor on the note that sounds.
 * The page has its recordings without it; where it starts, they move behind one line.
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.player) return;
  const { time, cursor, voices, bank, mixer, output, drawing, panel } = fifthpeg;

  const TEMPO_NAMES = ["slow", "medium", "full"];
  const TEMPOS = [[1, 2], [3, 4], [1, 1]]; // of the full tempo, where the page names no others
  const LEAD_SECONDS = 0.03; // from the press to the first sound: room to hand the sources over
  const FETCHING = "Fetching the sounds …";
  const FALL_BACK = "The recordings below still play.";
  let playing = null; // one tab on a page plays at a time

  /** Gives every tab below place its player, once however often it is called. */
  function start(place) {
    for (const figure of place.querySelectorAll("figure.fp-tab:not([data-fp-ready])")) {
      const data = dataOf(figure);
      const room = figure.querySelector(".fp-player");
      if (!data || !room || !root.AudioContext) continue;
      figure.setAttribute("data-fp-ready", "");
      attach(figure, room, data);
    }
  }

  function attach(figure, room, data) {
    const tab = {
      data,
      folder: figure.dataset.fpBank,
      names: [...new Set(data.notes.map((note) => note.sound).filter(Boolean))],
      drawing: drawing(figure.querySelector(".fp-drawing") || figure),
      recordings: foldRecordings(figure),
      tempos: data.tempos || TEMPOS,
      tempo: TEMPOS.length - 1,
      bars: barsOf(data.notes),
      bar: 0,
      run: null,
      press: 0,
    };
    const tempos = tab.tempos.map((share, index) => ({ name: TEMPO_NAMES[index], beats: beatsAt(data, share) }));
    tab.panel = panel(room, data.title, { tempos, bars: tab.bars.map((bar) => bar.number) }, {
      press: () => (playing === tab ? stop() : play(tab, beginning(tab))),
      tempo: (index) => changeTempo(tab, index),
      bar: (index) => changeBar(tab, index),
    });
    room.addEventListener("pointerenter", () => fetchSounds(tab));
    const sheet = figure.querySelector(".fp-drawing");
    if (sheet) sheet.addEventListener("click", (event) => playFromPress(tab, event));
  }

  /** Plays from a moment (a fraction of quarters) to the end, at the tempo chosen. */
  async function play(tab, from) {
    stop();
    playing = tab;
    const press = (tab.press += 1);
    quietRecordings();
    tab.panel.show(true);
    tab.panel.say(FETCHING);
    const [awake, loaded] = await Promise.all([output.wake(tab.data.rate), fetchSounds(tab)]);
    if (playing !== tab || press !== tab.press) return;
    const trouble = awake.says || loaded.says;
    if (trouble) return giveUp(tab, trouble);
    tab.panel.say("");
    begin(tab, awake.context, loaded.buffers, from);
  }

  function begin(tab, context, buffers, from) {
    const { data } = tab;
    const quartersPerMinute = time.times(data.qpm, tab.tempos[tab.tempo]);
    const fromFrame = time.frameOf(from, quartersPerMinute, data.rate);
    tab.run = {
      context,
      steps: cursor.steps(data.notes, quartersPerMinute),
      step: -1,
      sounding: mixer.play(context, {
        voices: voices(data, quartersPerMinute, data.rate),
        buffers, fromFrame, rateHz: data.rate, gain: data.gain, leadSeconds: LEAD_SECONDS,
        onEnd: () => playing === tab && stop(),
      }),
    };
    follow(tab, tab.run);
  }

  function follow(tab, run) {
    if (tab.run !== run) return;
    const seconds = output.heardSeconds(run.context) - run.sounding.zeroSeconds;
    const step = cursor.stepAt(run.steps, seconds);
    if (step !== run.step && seconds >= run.sounding.fromSeconds) {
      run.step = step;
      showStep(tab, run.steps[step]);
    }
    root.requestAnimationFrame(() => follow(tab, run));
  }

  function showStep(tab, step) {
    const share = time.times(step.at, [tab.data.quarters[1], tab.data.quarters[0]]);
    tab.drawing.light(step.notes.map((note) => note.mark));
    tab.panel.at(step.notes, share[0] / share[1]);
  }

  function stop() {
    if (!playing) return;
    const tab = playing;
    playing = null;
    if (tab.run) tab.run.sounding.stop();
    tab.run = null;
    output.rest();
    tab.drawing.light([]);
    tab.panel.at([], 0);
    tab.panel.say("");
    tab.panel.show(false);
  }

  function giveUp(tab, trouble) {
    stop();
    tab.panel.say(`${trouble} ${FALL_BACK}`);
    if (tab.recordings) tab.recordings.open = true;
  }

  function changeTempo(tab, index) {
    const step = playing === tab && tab.run ? tab.run.steps[Math.max(tab.run.step, 0)] : null;
    tab.tempo = index;
    if (step) play(tab, step.at);
  }

  function changeBar(tab, index) {
    tab.bar = index;
    if (playing === tab) play(tab, beginning(tab));
  }

  function beginning(tab) {
    return tab.bar ? tab.bars[tab.bar].start : [0, 1];
  }

  /** Bars with notes as first played: {number, start of the first note}. */
  function barsOf(notes) {
    const found = new Map();
    for (const { bar, start } of notes) if (!found.has(bar)) found.set(bar, { number: bar, start });
    return [...found.values()];
  }

  function playFromPress(tab, event) {
    const mark = tab.drawing.pressed(event);
    if (mark) play(tab, voices.startOf(tab.data.notes, mark));
  }

  function fetchSounds(tab) {
    return bank.load(tab.folder, tab.names, tab.data.rate);
  }

  function beatsAt(data, share) {
    return time.beatsPerMinute(time.times(data.qpm, share), data.beat);
  }

  function dataOf(figure) {
    try {
      return JSON.parse(figure.querySelector("script.fp-data").textContent);
    } catch {
      return null; // the page as written still reads and plays
    }
  }

  function foldRecordings(figure) {
    const recordings = figure.querySelector(".fp-recordings");
    if (!recordings) return null;
    const fold = root.document.createElement("details");
    fold.className = "fp-fold";
    const line = root.document.createElement("summary");
    line.textContent = "Recordings";
    recordings.replaceWith(fold);
    fold.append(line, recordings);
    return fold;
  }

  function quietRecordings() {
    for (const audio of root.document.querySelectorAll(".fp-recordings audio")) audio.pause();
  }

  function listen(document) {
    document.addEventListener("keydown", (event) => event.key === "Escape" && stop());
    document.addEventListener("play", stop, true); // a recording starts: the player makes way
    root.addEventListener("pagehide", stop);
    if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", () => start(document));
    else start(document);
  }

  fifthpeg.player = Object.freeze({ start, stop });
  if (root.document) listen(root.document);
  if (typeof module === "object") module.exports = fifthpeg.player;
})(globalThis);
