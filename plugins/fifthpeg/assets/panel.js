/* The player's own elements under a tab, and its words. It knows nothing of sound or time. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.panel) return;

  const FINGERS = { T: "thumb", I: "index", M: "middle" };
  const HINT = "Press a number in the tab to play from there.";
  let panelCount = 0; // radio buttons need a name of their own for each tab

  /**
   * Fills place (the empty .fp-player) and shows it.
   * tempos: [{name, beats}], the last one chosen; bars: the numbers of the bars with notes, 0 the pick-up.
   * on: {press, tempo(index), bar(index)} are called with what the reader did.
   */
  function panel(place, title, { tempos, bars }, on) {
    const button = element("button", { type: "button", class: "fp-play" }, "Play");
    const now = element("p", { class: "fp-now", "aria-hidden": "true" }, HINT);
    const said = element("p", { class: "fp-said", role: "status" });
    const way = element("div", { class: "fp-way", "aria-hidden": "true" });
    button.addEventListener("click", on.press);
    place.setAttribute("role", "group");
    place.setAttribute("aria-label", title ? `Player: ${title}` : "Player");
    place.replaceChildren(button, barChoice(bars, on.bar), tempoChoice(tempos, on.tempo), way, now, said);
    place.hidden = false;
    return {
      show: (playing) => {
        button.textContent = playing ? "Stop" : "Play";
        place.toggleAttribute("data-playing", playing);
        now.textContent = playing ? "" : HINT;
      },
      say: (sentence) => (said.textContent = sentence),
      at: (notes, share) => {
        now.textContent = notes.map(inWords).join(" · ");
        way.style.setProperty("--fp-share", share);
      },
    };
  }

  /** "string 3, fret 2, thumb" */
  function inWords(note) {
    const fret = note.touch === "damped" ? "damped" : note.fret ? `fret ${note.fret}` : "open";
    const how = note.picked ? FINGERS[note.finger] : note.release ? "release" : note.touch;
    return [`string ${note.string}`, fret, how].filter(Boolean).join(", ");
  }

  function barChoice(bars, onBar) {
    const options = bars.map((bar, index) => element("option", { value: index }, bar ? `bar ${bar}` : "pick-up"));
    const select = element("select", {}, ...options);
    select.addEventListener("change", () => onBar(select.selectedIndex));
    const label = element("label", { class: "fp-from" }, "from ", select);
    label.hidden = bars.length < 2;
    return label;
  }

  function tempoChoice(tempos, onTempo) {
    panelCount += 1;
    const choices = tempos.map((tempo, index) => {
      const radio = element("input", { type: "radio", name: `fp-tempo-${panelCount}` });
      radio.checked = index === tempos.length - 1;
      radio.addEventListener("change", () => onTempo(index));
      return element("label", {}, radio, ` ${tempo.name} ${tempo.beats}`);
    });
    return element("fieldset", { class: "fp-tempo" }, element("legend", {}, "Beats a minute"), ...choices);
  }

  function element(name, attributes, ...children) {
    const made = root.document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    made.append(...children);
    return made;
  }

  fifthpeg.panel = Object.assign(panel, { inWords });
  if (typeof module === "object") module.exports = fifthpeg.panel;
})(globalThis);
