/* The tabs a student may change over to: a variant's parent or the other way about, and a fit's other chains. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.beside) return;

  /** {other, before, after} of a figure: each a figure or null. */
  function beside(element) {
    const chains = chainsWith(element);
    const index = chains.indexOf(element);
    return { other: otherOf(element), before: chains[index - 1] || null, after: chains[index + 1] || null };
  }

  /** [{does, words}] for the ways there are: does is the action, words stand on its button. */
  function ways({ other, before, after }) {
    return [
      other && { does: "other", words: `Change over to ${titleOf(other) || "the other tab"}` },
      before && { does: "before", words: "The chain before" },
      after && { does: "after", words: "The next chain" },
    ].filter(Boolean);
  }

  /** The first tab of the page with the lick this one varies, or else with a variant of this one. */
  function otherOf({ dataset: { fpLick, fpVaries } }) {
    const figures = [...root.document.querySelectorAll("figure.fp-tab")].map((one) => [one, one.dataset]);
    const parent = fpVaries && figures.find(([, other]) => other.fpLick === fpVaries);
    const variant = fpLick && figures.find(([, other]) => other.fpVaries === fpLick);
    return (parent || variant || [null])[0];
  }

  /** The chains of the fit a figure stands in, best first; none outside one. */
  function chainsWith(element) {
    const fit = element.closest(".fp-fit");
    return fit ? [...fit.querySelectorAll(".fp-fit-chain > figure.fp-tab")] : [];
  }

  /** Unfolds what a figure stands in, and of a fit no other chain. */
  function unfold(element) {
    const fold = element.closest(".fp-fit-chain");
    const fit = element.closest(".fp-fit");
    if (fit) for (const one of fit.querySelectorAll(".fp-fit-chain")) one.open = one === fold;
    for (let one = element.closest("details"); one; one = one.parentElement.closest("details")) one.open = true;
  }

  function titleOf(element) {
    try {
      return String(JSON.parse(element.querySelector("script.fp-data").textContent).title || "");
    } catch {
      return "";
    }
  }

  fifthpeg.beside = Object.assign(beside, { ways, unfold });
  if (typeof module === "object") module.exports = fifthpeg.beside;
})(globalThis);
