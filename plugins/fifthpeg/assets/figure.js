/* A tab meets its figure on the page: drawing, row, fold, keys. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.figure) return;
  const { time, tab: tabs, cursor, slots, drawing, picking, panel, practice, keys, actions, beside, stage, settings } = fifthpeg;

  const UNKEPT = "This browser keeps nothing for this page: what you choose lasts until you leave it.";
  const attached = new Map(); // element -> its tab
  let saidUnkept = false;

  function attach(element, tab) {
    const { data } = tab;
    const sheet = element.querySelector(".fp-drawing") || element;
    const recordings = element.querySelector(".fp-heard");
    Object.assign(tab, { element, folder: element.dataset.fpBank, names: soundsOf(data.notes), beside: beside(element) });
    const [another] = attached.values();
    if (another) settings.share(another.state, tab.state);
    attached.set(element, tab);
    const ways = beside.ways(tab.beside);
    const has = { stems: Boolean(data.stems), ...Object.fromEntries(ways.map(({ does }) => [does, true])) };
    const act = actions(tab, playerOf(tab));
    const parts = {
      drawing: drawing(sheet, data),
      panel: panel(element.querySelector(".fp-player"), { ...tab.facts, slots: tab.slots, ways }, act),
      practice: practice({ ...tab.facts, tempos: tab.facts.named, hasExit: Boolean(data.exit), has }, act),
    };
    (element.querySelector(".fp-folds") || element).prepend(parts.practice.fold);
    tab.view = viewOf(tab, parts, recordings);
    keys([element.querySelector(".fp-player"), parts.practice.fold], has, act);
    listen(tab, sheet, parts, act);
    tab.view.refresh();
  }

  /** What the actions may ask of the page. */
  function playerOf(tab) {
    const from = (index) => tab.slots[index].at;
    return {
      toggle: () => (stage.isPlaying(tab) ? stage.stop() : stage.play(tab, from(beginning(tab)))),
      playFrom: (index) => stage.play(tab, from(index)),
      go: (index) => stage.isPlaying(tab) && stage.play(tab, from(index), { counted: false }),
      place: () => (tab.heard ? slotHeard(tab) : tab.place),
      placed: () => tab.view.place(tab.place),
      beats: () => (tab.run && tab.shown ? time.beatsPerMinute(tab.shown.tempo, tab.data.beat) : tab.state.beats),
      changed: (jump) => {
        tab.view.refresh();
        tab.view.kept(tabs.keep(tab));
        stage.changed(tab, jump);
        tellOthers(tab);
      },
      looped: () => tab.view.say(tabs.loopWords(tab)),
      tempoMoved: () => {
        tab.view.tempo(tab.state.beats);
        tab.view.kept(tabs.keep(tab));
        stage.tempoMoved(tab);
      },
      say: (sentence) => tab.view.say(sentence),
      help: () => tab.view.help(),
      changeOver: (way) => changeOver(tab, way),
    };
  }

  /** What holds for all tabs is so at once in those of this page too. */
  function tellOthers(tab) {
    for (const [element, other] of attached) {
      if (!element.isConnected) attached.delete(element); // the bench has taken it away
      if (!element.isConnected || !settings.share(tab.state, other.state)) continue;
      other.view.choices();
      stage.changed(other);
    }
  }

  /** From the place chosen; from the loop's beginning where that lies outside it. */
  function beginning({ place, state }) {
    return state.looping && (place < state.first || place > state.last) ? state.first : place;
  }

  function viewOf(tab, { drawing: drawn, panel: row, practice: fold }, recordings) {
    let [lit, slot, text] = ["", -1, ""];
    const place = (index) => row.place(index, placeWords(tab, index), stage.isPlaying(tab));
    function choices() {
      fold.show(tab.state, tabs.loopWords(tab));
      tab.element.toggleAttribute("data-letters-hidden", !tab.state.letters);
    }
    return {
      place,
      say: row.say,
      tempo: row.tempo,
      help: fold.help,
      at({ stretch, quarters }) {
        const counting = stretch.kind === "count";
        const notes = counting ? [] : cursor.notesAt(tab.steps, quarters, time.decimal(stretch.since));
        const marks = notes.map((note) => note.mark);
        if (marks.join() !== lit) drawn.light(marks);
        if (marks.length && marks.join() !== lit && tab.state.follow) drawn.reveal();
        lit = marks.join();
        const heard = slotHeard(tab);
        if (heard !== slot) place(heard);
        slot = heard;
        const words = counting ? panel.COUNTING : nowWords(tab, stretch, quarters, notes);
        if (words !== text) row.at(words);
        text = words;
      },
      playing(on) {
        row.playing(on);
        [lit, slot, text] = ["", -1, ""];
        drawn.light([]);
        place(tab.place);
        if (!on) row.tempo(tab.state.beats);
      },
      refresh() {
        row.tempo(tab.state.beats);
        row.loop(tab.state.looping);
        drawn.shade(tabs.shaded(tab));
        place(tab.place);
        choices();
      },
      choices,
      kept(could) {
        if (could || saidUnkept) return;
        saidUnkept = true;
        row.say(UNKEPT);
      },
      /** fallBack: what is said more where there are recordings to turn to. */
      giveUp(sentence, fallBack) {
        row.say(recordings ? `${sentence} ${fallBack}` : sentence);
        if (recordings) recordings.open = true;
      },
      focus: row.focus,
      focusWay: row.focusWay,
      shade: drawn.shade,
    };
  }

  function listen(tab, sheet, { drawing: drawn }, act) {
    const run = (from, to) => runOf(tab, from, to);
    picking(sheet, {
      slotAt: drawn.slotAt,
      picking: (from, to) => {
        const [first, last] = run(from, to);
        drawn.shade(tab.slots.slice(first, last + 1).map(({ bar, slot }) => [bar, slot]));
      },
      picked: (from, to) => {
        act.loopSlots(...run(from, to));
        tab.view.focus();
      },
      dropped: () => tab.view.refresh(),
    });
    sheet.addEventListener("click", (event) => {
      const mark = drawn.pressed(event);
      if (!mark) return;
      const at = fifthpeg.voices.startOf(tab.data.notes, mark);
      act.place(slots.indexAt(tab.slots, at));
      stage.play(tab, at, { counted: false });
      tab.view.focus(); // so that the keys act at once
    });
    tab.element.querySelector(".fp-player").addEventListener("pointerenter", () => stage.prepare(tab));
  }

  /** Indexes of the slots of a run picked on the drawing, as first played: [first, last]. */
  function runOf({ slots: row }, one, other) {
    const [from, to] = [one, other].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    const first = slots.find(row, ...from);
    const last = slots.find(row, ...to, first);
    return [first, last < 0 ? first : last];
  }

  function changeOver(tab, way) {
    const other = attached.get(tab.beside[way]);
    if (!other) return;
    beside.unfold(other.element);
    stage.changeOver(tab, other);
    other.view.focusWay(way);
  }

  function slotHeard(tab) {
    const { quarters } = tab.heard;
    const places = tab.places || (tab.places = tab.slots.map((slot) => ({ quarters: time.decimal(slot.at) })));
    return Math.max(cursor.indexAt(places, "quarters", quarters), 0);
  }

  function placeWords({ slots: row, data }, index) {
    const slot = row[index];
    const notes = data.notes.filter((note) => time.compare(note.start, slot.at) >= 0 && time.compare(note.start, slot.end) < 0);
    return [slot.words, ...notes.map(panel.inWords)].join(": ");
  }

  function nowWords(tab, stretch, quarters, notes) {
    const pass = tab.state.looping ? `pass ${stretch.pass + 1}` : "";
    return [tabs.linkWords(tab, quarters), pass, ...notes.map(panel.inWords)].filter(Boolean).join(" · ");
  }

  function soundsOf(notes) {
    return [...new Set(notes.map((note) => note.sound).filter(Boolean))];
  }

  fifthpeg.figure = Object.freeze({ attach });
  if (typeof module === "object") module.exports = fifthpeg.figure;
})(globalThis);
