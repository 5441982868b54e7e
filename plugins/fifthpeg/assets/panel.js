/* What stands under a tab at first sight: play, tempo, loop, the place. It knows nothing of sound or time. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.panel) return;
  const { element, button, slider } = fifthpeg.dom || require("./dom.js");

  const FINGERS = { T: "thumb", I: "index", M: "middle" };
  const HINT = "Press a number to play from there; sweep along the tab to loop a part.";
  const COUNTING = "Counting one bar in …";

  /**
   * Fills room (the empty .fp-player) and shows it. facts: {title, least, most, full, slots, ways}: beats a
   * minute, slots as slots.js gives them, ways to other tabs as beside.js does.
   * act: {press, loop, tempo(beats), quicken(beats), place(index), go(index), and each way}: what the student did.
   */
  function panel(room, facts, act) {
    const play = button("Play", act.press, { class: "fp-button fp-play" });
    const loop = button("Loop", act.loop, { class: "fp-button fp-loop", "aria-pressed": "false" });
    const tempo = tempoChoice(facts, act);
    const ways = new Map(facts.ways.map(({ does, words }) => [does, button(words, act[does])]));
    const dock = element("div", { class: "fp-dock" }, element("div", { class: "fp-row" }, play, loop, tempo.group));
    const place = placeChoice(facts.slots, act);
    const now = element("p", { class: "fp-now", "aria-hidden": "true" }, HINT);
    const said = element("p", { class: "fp-said", role: "status" });
    room.setAttribute("role", "group");
    room.setAttribute("aria-label", facts.title ? `Player: ${facts.title}` : "Player");
    room.replaceChildren(dock, place.slider, now, ...rowOf(ways), said);
    room.hidden = false;
    const keepInReach = reachOf(dock);
    return {
      focusWay: (does) => (ways.get(does) || play).focus(),
      focus: () => play.focus({ preventScroll: true }),
      tempo: tempo.show,
      place: place.show,
      say: (sentence) => (said.textContent = sentence),
      loop: (on) => loop.setAttribute("aria-pressed", on),
      at: (words) => (now.textContent = words || HINT),
      playing: (on) => {
        play.textContent = on ? "Stop" : "Play";
        room.toggleAttribute("data-playing", on);
        keepInReach(on);
        now.textContent = on ? "" : HINT;
      },
    };
  }

  function rowOf(ways) {
    return ways.size ? [element("div", { class: "fp-row" }, ...ways.values())] : [];
  }

  /** "string 3, fret 2, thumb" */
  function inWords(note) {
    const fret = note.touch === "damped" ? "damped" : note.fret ? `fret ${note.fret}` : "open";
    const how = note.picked ? FINGERS[note.finger] : note.release ? "release" : note.touch;
    return [`string ${note.string}`, fret, how].filter(Boolean).join(", ");
  }

  function tempoChoice({ least, most, full }, act) {
    const number = element("strong", {});
    const unit = element("span", { class: "fp-unit" });
    const shown = element("span", { class: "fp-beats", "aria-hidden": "true" }, number, unit);
    const range = slider({ min: least, max: most, "aria-label": "Tempo" }, act.tempo);
    const group = element("div", { class: "fp-tempo" },
      button("−", () => act.quicken(-1), { "aria-label": "Slower" }), range,
      button("+", () => act.quicken(1), { "aria-label": "Faster" }), shown);
    function show(beats) {
      const percent = `${Math.round((100 * beats) / full)} %`;
      range.value = beats;
      range.setAttribute("aria-valuetext", `${beats} beats a minute, ${percent} of full tempo`);
      number.textContent = beats;
      unit.textContent = ` beats a minute, ${beats === full ? "full tempo" : percent}`;
    }
    return { group, show };
  }

  function placeChoice(slots, act) {
    let moving = false;
    const range = slider({ class: "fp-place", min: 0, max: slots.length - 1, value: 0, "aria-label": "Place in the tab" },
      (index) => {
        moving = true;
        act.place(index);
      });
    range.addEventListener("change", () => {
      moving = false;
      act.go(Number(range.value));
    });
    /** A reader at the slider is not talked over: there it stands still while the tab plays. */
    function show(index, words, playing) {
      range.style.setProperty("--fp-share", slots.length > 1 ? index / (slots.length - 1) : 0);
      if (moving || (playing && root.document.activeElement === range)) return;
      range.value = index;
      range.setAttribute("aria-valuetext", words);
    }
    return { slider: range, show };
  }

  /** While a tab plays and its row is out of sight, the row stands at the foot of the screen. */
  function reachOf(dock) {
    const row = dock.firstChild;
    const page = root.document.documentElement;
    function set(away) {
      if (away === row.hasAttribute("data-away")) return;
      dock.style.minHeight = away ? `${row.offsetHeight}px` : "";
      row.toggleAttribute("data-away", away);
      page.toggleAttribute("data-fp-docked", away);
    }
    const watch = root.IntersectionObserver && new root.IntersectionObserver(
      (seen) => set(seen[seen.length - 1].intersectionRatio < 0.95), { threshold: [0, 0.95, 1] });
    return function playing(on) {
      if (!watch) return;
      if (on) watch.observe(dock);
      else watch.disconnect();
      if (!on) set(false);
    };
  }

  fifthpeg.panel = Object.assign(panel, { inWords, COUNTING });
  if (typeof module === "object") module.exports = fifthpeg.panel;
})(globalThis);
