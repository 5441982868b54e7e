/* The part of the bench where a number of bars is dealt and a vamp plays while the student answers with a chain. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.benchSinger) return;
  const { bench, benchParts: parts, singer, laid, player } = fifthpeg;
  const { element, button } = fifthpeg.dom;

  const HEADING = "The singer comes back in ? bars";
  const HOW = "Deal a number of bars. While the vamp goes round, put a chain on the bench that fills exactly that many, "
    + "over that chord.";
  const SILENT = "The notes of the vamp did not come; the bars are dealt all the same.";

  /** Gives {section, show(chain)}; chain as singer.js takes it. The section is empty where no time can be filled. */
  function benchSinger({ folder, bank, site }) {
    const fillings = bench.fillings();
    const chords = element("select", {}, ...fillings.map(({ chord }) => element("option", { value: chord }, chord)));
    const asked = element("p", { class: "fp-bench-asked", role: "status" });
    const answer = element("p", { class: "fp-bench-answer", role: "status" });
    const vamp = element("div", {});
    const deal = button("Deal bars", (event) => dealt(Math.round(event.timeStamp * 1000)));
    const over = fillings.length > 1 ? [element("label", {}, "Over ", chords)] : [];
    let dealing = null; // {filling, wanted}
    let chain = { ids: [], keepsExit: true, hasExit: false, verdicts: [] };

    function dealt(seed) {
      const filling = fillings[Math.max(chords.selectedIndex, 0)];
      dealing = { filling, wanted: singer.deal(filling.lengths, seed, dealing ? dealing.wanted : 0) };
      asked.textContent = `The singer comes back in ${parts.counted(dealing.wanted, "bar")}, over ${filling.chord}.`;
      show(chain);
      return play(dealing);
    }
    async function play(mine) {
      const notes = await bench.load(folder, [mine.filling.name]);
      if (mine !== dealing) return;
      if (!notes) return void vamp.replaceChildren(element("p", {}, SILENT));
      if (vamp.dataset.fpName !== mine.filling.name) {
        vamp.replaceChildren(parts.figure(laid(notes, true, notes[0].title), notes, { bank, site }));
        vamp.dataset.fpName = mine.filling.name;
        player.start(vamp);
        vamp.querySelector(".fp-loop").click();
      }
      if (!vamp.querySelector("[data-playing]")) vamp.querySelector(".fp-play").click();
    }
    function show(now) {
      chain = now;
      if (!dealing) return;
      const judged = singer.judge(dealing.wanted, dealing.filling, chain, (id) => bench.licks.get(id).title);
      answer.textContent = judged.says;
      answer.dataset.fpFits = judged.fits ? (judged.clean ? "clean" : "unclean") : "no";
    }

    const section = element("section", { "aria-label": HEADING });
    if (fillings.length) {
      section.append(element("h2", {}, HEADING), element("p", {}, HOW),
        element("div", { class: "fp-filters" }, ...over, deal), asked, answer, vamp);
    }
    return { section, show };
  }

  fifthpeg.benchSinger = benchSinger;
  if (typeof module === "object") module.exports = fifthpeg.benchSinger;
})(globalThis);
