/* The fold with everything else a student may ask of a tab: loop, count and click, backing, climb, the page, keys. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.practice) return;
  const { element, button, slider } = fifthpeg.dom || require("./dom.js");
  const keys = fifthpeg.keys || require("./keys.js");
  const settings = fifthpeg.settings || require("./settings.js");

  const HERE = "“Here” is the place under the tab, or the note that sounds.";
  const CARE = "Stop at the first pain, and let the hands rest five minutes in every half hour. "
    + "A doctor or physiotherapist knows more about hands than a page can.";
  let count = 0; // the fields of each tab have names of their own

  /**
   * facts: {least, most, tempos: [{name, beats}], hasExit, has as keys.js does}; act: what the student did.
   * Gives {fold, show(state, words), help()}; state as settings.js has it, words says where the loop is.
   * What is inside is made when it is first opened: a page of many tabs is read long before that.
   */
  function practice(facts, act) {
    const summary = element("summary", {}, "Practice");
    const fold = element("details", { class: "fp-fold fp-practice" }, summary);
    let inside = null;
    let shown = null;
    function fill() {
      if (inside) return;
      inside = insideOf(facts, act);
      fold.append(...inside.parts);
      if (shown) inside.show(...shown);
    }
    summary.addEventListener("click", fill);
    fold.addEventListener("toggle", fill); // a browser's own search may open it too
    return {
      fold,
      show(state, words) {
        shown = [state, words];
        if (inside) inside.show(state, words);
      },
      help() {
        fill();
        fold.open = true;
        inside.help.open = true;
        inside.help.querySelector("summary").focus();
      },
    };
  }

  function insideOf(facts, act) {
    const switches = new Map();
    const toggle = (name, words) => {
      const box = element("input", { type: "checkbox" });
      box.addEventListener("change", () => act[name]());
      switches.set(name, box);
      return element("label", { class: "fp-switch" }, box, words);
    };
    const levels = new Map();
    const level = (part, words, name) => {
      const { choice, show } = levelChoice(words, name, (percent) => act.level(part, percent));
      levels.set(part, show);
      return choice;
    };
    const numbers = climbNumbers(facts, act);
    const loopWords = element("p", {});
    const best = element("p", {});
    const help = element("details", { class: "fp-fold fp-keys" }, element("summary", {}, "Keys"), keyList(facts.has));
    const parts = [
      group("Loop", loopWords, loopButtons(facts, act), element("p", {}, HERE)),
      group("Tempo", ...facts.tempos.map(({ name, beats }) => button(`${name} ${beats}`, () => act.tempo(beats))), best),
      group("Count and click",
        levelled(toggle("counted", "Count one bar first"), level("count", "Level", "Level of the counted bar")),
        levelled(toggle("click", "Click"), level("click", "Level", "Level of the click"))),
      ...(facts.has.stems ? [group("Backing",
        levelled(toggle("backing", "Guitar and bass"), level("guitar", "Guitar", "Level of the guitar"),
          level("bass", "Bass", "Level of the bass")),
        toggle("muted", "Leave the lick out"))] : []),
      group("Climb", toggle("climbing", "Raise the tempo pass by pass"), numbers.row, element("p", {}, CARE)),
      group("On the page", toggle("letters", "Right-hand letters"), toggle("follow", "Keep the cursor in view")),
      help,
    ];
    function show(state, words) {
      for (const [name, box] of switches) box.checked = state[name];
      numbers.show(state);
      for (const [part, showLevel] of levels) showLevel(state[`${part}Level`]);
      loopWords.textContent = words;
      best.textContent = state.best ? `Fastest played through so far: ${state.best} beats a minute.` : "";
    }
    return { parts, help, show };
  }

  /** words beside the slider, and its name; 100 per cent is the part's own level, for guitar and bass the recordings'. */
  function levelChoice(words, name, moved) {
    const range = slider({ min: 0, max: settings.MOST_LEVEL, step: 10, "aria-label": name }, moved);
    const word = element("span", { class: "fp-part", "aria-hidden": "true" }, words);
    const shown = element("span", { class: "fp-percent", "aria-hidden": "true" });
    const choice = element("span", { class: "fp-level" }, word, range, shown);
    function show(percent) {
      range.value = percent;
      range.setAttribute("aria-valuetext", `${percent} %`);
      shown.textContent = `${percent} %`;
    }
    return { choice, show };
  }

  function loopButtons({ hasExit }, act) {
    return element("div", { class: "fp-choices" }, button("From here", act.loopFrom), button("Up to here", act.loopUpTo),
      button("This bar", act.loopBar), button("The whole", act.loopWhole),
      ...(hasExit ? [button("All but the way out", act.loopToExit)] : []));
  }

  /** "from [104] by [5] every [2] passes up to [208]" */
  function climbNumbers({ least, most }, act) {
    count += 1;
    let shown = null;
    const fields = {
      from: ["From", least, most], step: ["by", 1, settings.MOST_STEP],
      passes: ["after every", 1, settings.MOST_PASSES], goal: ["passes, up to", least, most],
    };
    const inputs = Object.entries(fields).map(([name, [words, min, max]]) => {
      const input = element("input", { type: "number", min, max, step: 1, inputmode: "numeric", name: `fp-${name}-${count}` });
      input.addEventListener("change", () => {
        if (input.value === "") show(shown); // emptied, or no number
        else act.number(name, Math.min(Math.max(Math.round(Number(input.value)), min), max));
      });
      return [name, input, element("label", {}, words, " ", input)];
    });
    const row = element("div", { class: "fp-numbers" }, ...inputs.map(([, , label]) => label), "beats a minute");
    function show(state) {
      shown = { ...state };
      for (const [name, input] of inputs) input.value = state[name];
    }
    return { row, show };
  }

  function keyList(has) {
    const rows = keys.list(has).flatMap(([key, says]) => [element("dt", {}, element("kbd", {}, key)), element("dd", {}, says)]);
    return element("div", {}, element("p", {}, "They act while the focus is in this player."), element("dl", {}, ...rows));
  }

  /** A switch, and the levels of what it switches. */
  function levelled(box, ...levels) {
    return element("div", { class: "fp-levelled" }, box, element("div", {}, ...levels));
  }

  function group(words, ...children) {
    return element("fieldset", { class: "fp-group" }, element("legend", {}, words), ...children);
  }

  fifthpeg.practice = practice;
  if (typeof module === "object") module.exports = fifthpeg.practice;
})(globalThis);
