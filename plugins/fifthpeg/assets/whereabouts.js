/* Where a reader was on a page of many tabs. A browser keeps so many pixels from the top, and a tab that was never
   drawn has no true height to count them by; here the nearest heading or tab is kept instead. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.whereabouts) return;

  const { memory } = fifthpeg;

  const NAME = "place";
  const MARKS = "h1, h2, h3, figure.fp-tab";

  /** Whether the reader comes by reload, back or forward: then the browser looks for the place too. */
  function comesBack() {
    const [visit] = root.performance.getEntriesByType("navigation");
    return Boolean(visit) && ["reload", "back_forward"].includes(visit.type);
  }

  function keep() {
    const tops = marks().map((mark) => mark.getBoundingClientRect().top);
    const index = Math.max(tops.findLastIndex((top) => top <= 0), 0);
    if (tops.length) place().write(NAME, { index, top: Math.round(tops[index]) });
  }

  /** Scrolls there, where something was kept and the page still has it. */
  function goBack() {
    const { index, top } = place().read(NAME);
    const mark = marks()[index];
    if (mark && Number.isFinite(top)) root.scrollBy({ top: mark.getBoundingClientRect().top - top, behavior: "instant" });
  }

  /** Of this page, until its window closes. */
  function place() {
    return memory(root.location.pathname, "sessionStorage");
  }

  function marks() {
    return [...root.document.querySelectorAll(MARKS)].filter((mark) => mark.getClientRects().length);
  }

  function listen(document) {
    root.addEventListener("pagehide", keep);
    document.addEventListener("visibilitychange", () => document.hidden && keep()); // a phone may drop the page unasked
    if (comesBack()) root.addEventListener("load", () => root.requestAnimationFrame(goBack));
  }

  fifthpeg.whereabouts = Object.freeze({ comesBack, listen });
  if (typeof module === "object") module.exports = fifthpeg.whereabouts;
})(globalThis);
