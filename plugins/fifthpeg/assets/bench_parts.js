/* What stands on the bench: the licks to pick from, the chain with its seams, and the room for its player. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.benchParts) return;
  const { element, button } = fifthpeg.dom || require("./dom.js");

  const MOST_SHOWN = 24; // a longer list is narrowed by the student
  const ANY = "any";
  const NONE = "No lick is all of that: widen the list.";
  const OFFERED = "Any one of these makes it clean. They are for you to play; the sound below does not have them:";
  const UNMENDED = "No small change is known that would mend it.";
  const FILTERS = { role: "Role", key: "Key", label: "Label", seam: "Would follow" };
  const VERDICTS = ["clean", "tight", "clash"];

  /** "1 bar", "2 bars" */
  function counted(count, noun) {
    return count === 1 ? `1 ${noun}` : `${count} ${noun}s`;
  }

  /**
   * The list to pick from, narrowed by role, key, label, and how a lick would follow the chain. add(id): one was
   * picked. Gives {list, show(seamWith)}; seamWith(id) is the seam a lick would make with the chain's last one, or null.
   */
  function picker(licks, add) {
    let seamWith = () => null;
    const facts = {
      role: (lick) => [lick.role], key: (lick) => [lick.key], label: (lick) => lick.labels, seam: (lick) => [verdict(lick)],
    };
    const verdict = ({ id }) => (seamWith(id) || {}).verdict;
    const valuesOf = (name) => (name === "seam" ? VERDICTS : [...new Set(licks.flatMap(facts[name]))].sort());
    const selects = Object.keys(facts).filter((name) => valuesOf(name).length > 1).map((name) => [name, selectOf(valuesOf(name))]);
    const words = element("input", { type: "search", autocomplete: "off" });
    const found = element("ul", { class: "fp-bench-licks" });
    const rest = element("p", { class: "fp-bench-rest" });
    const items = new Map();
    const show = () => {
      const fitting = licks.filter((lick) => fits(lick));
      const focused = root.document.activeElement;
      found.replaceChildren(...fitting.slice(0, MOST_SHOWN).map(itemOf));
      if (found.contains(focused)) focused.focus(); // what is put back has lost it
      const more = fitting.length - MOST_SHOWN;
      rest.textContent = more > 0 ? `And ${more} more: narrow the list to see them.` : fitting.length ? "" : NONE;
    };
    function fits(lick) {
      const chosen = selects.every(([name, select]) => select.selectedIndex === 0 || facts[name](lick).includes(select.value));
      return chosen && lick.title.toLowerCase().includes(words.value.trim().toLowerCase());
    }
    function itemOf(lick) {
      if (!items.has(lick.id)) items.set(lick.id, pickable(lick, () => add(lick.id)));
      const { item, follows } = items.get(lick.id);
      const seam = seamWith(lick.id);
      follows.replaceChildren(...(seam ? [", would follow: ", verdictOf(seam.verdict)] : []));
      return item;
    }
    for (const [, select] of selects) select.addEventListener("change", show);
    words.addEventListener("input", show);
    const form = element("form", { class: "fp-filters", autocomplete: "off" },
      ...selects.map(([name, select]) => element("label", {}, `${FILTERS[name]} `, select)),
      element("label", {}, "Title ", words));
    form.addEventListener("submit", (event) => event.preventDefault());
    return {
      list: element("section", { "aria-label": "Licks to pick from" }, form, found, rest),
      show(newSeamWith) {
        seamWith = newSeamWith;
        show();
      },
    };
  }

  function pickable(lick, press) {
    const follows = element("span", {});
    const said = element("span", {}, `${lick.role}, key of ${lick.key}, ${counted(lick.body, "bar")}${wayOut(lick)}`, follows);
    return { item: element("li", {}, button(`Add ${lick.title}`, press), said), follows };
  }

  function wayOut({ body, full }) {
    return full > body ? ` and ${counted(full - body, "bar")} of exit` : "";
  }

  function selectOf(values) {
    return element("select", {}, element("option", {}, ANY), ...values.map((value) => element("option", { value }, value)));
  }

  /** The word for a verdict, with its sign. */
  function verdictOf(verdict) {
    return element("strong", { class: `fp-verdict fp-${verdict}` }, verdict);
  }

  /**
   * The chain as a list: its licks, and between them what is said of each seam. links: [{lick, url, seam}], seam being
   * the one before the link, null for the first. act: {move(index, way), drop(index)}.
   */
  function chainList(links, act) {
    const last = links.length - 1;
    return element("ol", { class: "fp-bench-chain" }, ...links.map(({ lick, url, seam }, index) => element("li", {},
      seam ? seamOf(seam) : "",
      element("div", { class: "fp-bench-link" },
        element("span", {}, element("a", { href: url }, lick.title),
          `, ${counted(lick.body, "bar")}${index === last ? wayOut(lick) : ""}`),
        element("span", { class: "fp-choices" },
          press("Earlier", `Move ${lick.title} earlier`, `earlier-${index}`, index === 0, () => act.move(index, -1)),
          press("Later", `Move ${lick.title} later`, `later-${index}`, index === last, () => act.move(index, 1)),
          press("Take out", `Take out ${lick.title}`, `drop-${index}`, false, () => act.drop(index)))))));
  }

  function press(words, name, place, off, act) {
    return button(words, act, { "aria-label": name, "data-fp-place": place, disabled: off });
  }

  function seamOf({ verdict, says, repairs }) {
    const offers = repairs.length ? [element("p", {}, OFFERED),
      element("ul", {}, ...repairs.map((repair) => element("li", {}, repair)))] : [];
    const none = (verdict === "tight" || verdict === "clash") && !repairs.length ? [element("p", {}, UNMENDED)] : [];
    return element("div", { class: "fp-bench-seam", "data-verdict": verdict },
      element("p", { class: `fp-verdict fp-${verdict}` }, says), ...offers, ...none);
  }

  /** A figure as any page has it, for the player to start in; data as laid.js gives it, licks with their drawings. */
  function figure(data, licks, { bank, site }) {
    const drawing = element("div", { class: "fp-drawing", role: "img", "aria-label": `Tab: ${data.title}` });
    licks.forEach((lick, link) => drawing.append(...barsOf(lick, link, data.drawn[link])));
    const script = element("script", { type: "application/json", class: "fp-data" });
    script.textContent = JSON.stringify(data);
    return element("figure", { class: "fp-tab", "data-fp-bank": bank, "data-fp-site": site },
      element("figcaption", { class: "fp-caption" }, element("strong", {}, data.title)), drawing,
      element("div", { class: "fp-player", hidden: true }), element("div", { class: "fp-folds" }), script);
  }

  /** The bars of a link that are played, numbered and marked as in the chain. The drawing is the build's own. */
  function barsOf({ drawing, bars }, link, numbers) {
    const drawn = new root.DOMParser().parseFromString(`<body>${drawing}</body>`, "text/html");
    const played = new Set(bars.map((bar) => bar.bar));
    return [...drawn.querySelectorAll("svg[data-bar]")].filter((svg) => {
      const written = Number(svg.getAttribute("data-bar"));
      if (!played.has(written) || (!(written in numbers) && written !== 0)) return false;
      svg.setAttribute("data-bar", written in numbers ? numbers[written] : "");
      const shown = svg.querySelector(".fp-number text");
      if (shown && written in numbers) shown.textContent = numbers[written];
      for (const group of svg.querySelectorAll("[data-mark]")) {
        group.setAttribute("data-mark", `${link}-${group.getAttribute("data-mark")}`);
      }
      return true;
    }).map((svg) => root.document.adoptNode(svg));
  }

  fifthpeg.benchParts = Object.freeze({ picker, chainList, figure, verdictOf, counted });
  if (typeof module === "object") module.exports = fifthpeg.benchParts;
})(globalThis);
