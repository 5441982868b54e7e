/* The chain bench: licks are picked, their seams seen, the row heard. Kept in this browser, and in the address. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.benchPage) return;
  const { bench, benchAddress: address, benchParts: parts, benchSinger, laid, memory, stage, player } = fifthpeg;
  const { element, button } = fifthpeg.dom;

  const KEPT = "bench";
  const EMPTY = "The bench is empty. Pick a lick below to begin.";
  const FETCHING = "Fetching the notes …";
  const MISSING = "The notes of one of these licks did not come, so the chain can't be heard here.";
  const APART = "As it stands this row is no chain, so it can't be heard.";
  const UNKEPT = "This browser keeps nothing for this page: the address alone carries the chain.";
  const LOST = "could not be laid on the bench: this course has no such lick, or the chain was too long.";
  const FULL = `A chain has up to ${address.MOST_LINKS} links.`;

  /** Fills every room of the page once, however often it is called; the library has come by then. */
  function start(place) {
    for (const room of place.querySelectorAll(".fp-bench:not([data-fp-ready])")) {
      room.setAttribute("data-fp-ready", "");
      attach(room);
    }
  }

  function attach(room) {
    const { fpRoot, fpLick, fpBench, fpBank } = room.dataset;
    const site = new URL(fpRoot, root.document.baseURI).pathname;
    const store = memory(site);
    const chain = { ids: [], keepsExit: true };
    const list = element("div", { tabindex: "-1" });
    const summary = element("p", { class: "fp-bench-summary" });
    const exit = element("input", { type: "checkbox" });
    const exitChoice = element("label", { class: "fp-switch" }, exit, "Keep the last exit");
    const empty = button("Empty the bench", () => {
      change({ ids: [], keepsExit: true }, "The bench is empty.");
      list.focus(); // the button has gone
    });
    const heard = element("div", {});
    const said = element("p", { class: "fp-said", role: "status" });
    const pick = parts.picker([...bench.licks.values()], add);
    const vamps = benchSinger({ folder: fpBench, bank: fpBank, site });
    let changes = 0;

    function add(id) {
      if (chain.ids.length === address.MOST_LINKS) return say(FULL);
      const before = chain.ids[chain.ids.length - 1];
      const seam = before ? ` Seam: ${bench.seam(before, id).verdict}.` : "";
      return change({ ids: [...chain.ids, id] }, `${titleOf(id)} added as link ${chain.ids.length + 1}.${seam}`);
    }
    function move(index, way) {
      const ids = [...chain.ids];
      [ids[index], ids[index + way]] = [ids[index + way], ids[index]];
      change({ ids }, `${titleOf(ids[index + way])} is link ${index + way + 1} now.`);
      focus(`${way < 0 ? "earlier" : "later"}-${index + way}`, `drop-${index + way}`);
    }
    function drop(index) {
      change({ ids: chain.ids.filter((_, place) => place !== index) }, `${titleOf(chain.ids[index])} taken out.`);
      focus(`drop-${index}`, `drop-${index - 1}`);
    }
    /** The first of these buttons that can take the focus, or else the list. */
    function focus(...places) {
      const found = places.map((place) => list.querySelector(`[data-fp-place="${place}"]:enabled`)).find(Boolean);
      (found || list).focus();
    }
    function change(changed, sentence) {
      Object.assign(chain, changed);
      showAddress(chain);
      const kept = store.write(KEPT, { ids: chain.ids, keepsExit: chain.keepsExit });
      show();
      say(kept ? sentence : `${sentence} ${UNKEPT}`);
    }
    function say(sentence) {
      said.textContent = sentence;
    }
    function titleOf(id) {
      return bench.licks.get(id).title;
    }
    function show() {
      const { ids, keepsExit } = chain;
      const seams = ids.slice(1).map((id, index) => bench.seam(ids[index], id));
      const verdicts = seams.map((seam) => seam.verdict);
      const links = ids.map((id, index) =>
        ({ lick: bench.licks.get(id), url: fpLick.replace("*", id), seam: index ? seams[index - 1] : null }));
      list.replaceChildren(ids.length ? parts.chainList(links, { move, drop }) : element("p", {}, EMPTY));
      summary.textContent = ids.length ? summaryOf(chain, seams) : "";
      exit.checked = keepsExit;
      exitChoice.hidden = !ids.length || !hasExit(ids[ids.length - 1]);
      empty.hidden = !ids.length;
      vamps.show({ ids, keepsExit, hasExit: !exitChoice.hidden, verdicts });
      pick.show(ids.length ? (id) => bench.seam(ids[ids.length - 1], id) : () => null);
      hear(ids, keepsExit, seams);
    }
    async function hear(ids, keepsExit, seams) {
      const mine = (changes += 1);
      if (heard.querySelector("[data-playing]")) stage.stop(); // a vamp goes on
      const apart = seams.some((seam) => seam.verdict === "apart");
      heard.replaceChildren(...(ids.length ? [element("p", {}, apart ? APART : FETCHING)] : []));
      if (!ids.length || apart) return;
      const licks = await bench.load(fpBench, ids.map((id) => `licks/${id}`));
      if (mine !== changes) return;
      if (!licks) return void heard.replaceChildren(element("p", {}, MISSING));
      const data = laid(licks, keepsExit, ids.map(titleOf).join(", then "));
      heard.replaceChildren(parts.figure(data, licks, { bank: fpBank, site }));
      player.start(heard);
    }
    /** The address counts before what is kept. */
    function begin() {
      const asked = address.read(root.location.hash, bench.licks);
      const { chain: found, lost } = asked.chain ? asked : address.recall(store.read(KEPT), bench.licks);
      Object.assign(chain, found || { ids: [], keepsExit: true });
      show();
      say(lost ? `${parts.counted(lost, "link")} ${LOST}` : "");
    }

    exit.addEventListener("change", () =>
      change({ keepsExit: exit.checked }, exit.checked ? "The last exit is kept." : "The last exit falls away."));
    const choices = element("div", { class: "fp-choices" }, exitChoice, empty);
    room.replaceChildren(element("h2", {}, "Your chain"), list, summary, choices, said, heard, vamps.section,
      element("h2", {}, "Licks to pick from"), pick.list);
    root.addEventListener("hashchange", begin);
    begin();
  }

  /** "3 links, 6 bars, at the tempo of the first, 208 beats a minute. 1 seam clean, 1 tight." */
  function summaryOf({ ids, keepsExit }, seams) {
    const [first] = ids.map((id) => bench.licks.get(id));
    const countOf = (word) => seams.filter((seam) => seam.verdict === word).length;
    const counts = ["clean", "tight", "clash", "apart"].filter(countOf).map((word) => `${countOf(word)} ${word}`);
    const seamWords = counts.length ? ` Seams: ${counts.join(", ")}.` : "";
    const other = ids.some((id) => bench.licks.get(id).beats !== first.beats)
      ? " Some links have another full tempo by themselves, and a seam is judged at the tempo of the lick before it." : "";
    const size = `${parts.counted(ids.length, "link")}, ${parts.counted(bench.bars(ids, keepsExit), "bar")}`;
    return `${size}, at the tempo of the first: ${first.tempo}.${seamWords}${other}`;
  }

  function hasExit(id) {
    const { body, full } = bench.licks.get(id);
    return full > body;
  }

  /** Without a new entry in the history: going back leaves the page. */
  function showAddress(chain) {
    try {
      root.history.replaceState(null, "", address.written(chain) || root.location.pathname + root.location.search);
    } catch {
      // some browsers refuse it to a page opened from a folder; the chain is kept all the same
    }
  }

  fifthpeg.benchPage = Object.freeze({ start });
  if (typeof module === "object") module.exports = fifthpeg.benchPage;
})(globalThis);
