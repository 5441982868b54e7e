/* The player under every tab. The page has its recordings without it. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.player) return;
  const { tab: tabs, memory, figure: figures, keys, stage, whereabouts } = fifthpeg;

  const PATIENCE_MS = 100; // a tab waits no longer for its player, however busy the page is

  /** Gives every tab below place its player, once however often it is called. */
  function start(place) {
    for (const element of tabsBelow(place)) attach(element);
  }

  /** One tab after the other, when the browser has nothing better to do: a page may have dozens. */
  function startInTurn([first, ...others]) {
    if (!first) return;
    whenIdle(() => {
      attach(first);
      startInTurn(others);
    });
  }

  function whenIdle(then) {
    if (root.requestIdleCallback) root.requestIdleCallback(then, { timeout: PATIENCE_MS });
    else root.setTimeout(then, 0);
  }

  function tabsBelow(place) {
    return place.querySelectorAll("figure.fp-tab");
  }

  function attach(element) {
    if (element.hasAttribute("data-fp-ready")) return;
    const data = root.AudioContext ? dataOf(element) : null;
    const recordings = element.querySelector(".fp-heard");
    if (!data && recordings) recordings.open = true; // they are all there is to hear
    if (!data) return;
    element.setAttribute("data-fp-ready", "");
    figures.attach(element, tabs(data, memory(siteOf(element))));
  }

  /** What the figure names, or else the site's root, above media/bank/ and the bank's own folder. */
  function siteOf(element) {
    const bank = new URL(element.dataset.fpBank || ".", root.document.baseURI);
    return element.dataset.fpSite || new URL("../../../", bank).pathname;
  }

  function dataOf(element) {
    try {
      const data = JSON.parse(element.querySelector("script.fp-data").textContent);
      return element.querySelector(".fp-player") && data.notes.length && data.bars.length ? data : null;
    } catch {
      return null; // the page as written still reads and plays
    }
  }

  function listen(document) {
    document.addEventListener("keydown", (event) => event.key === "Escape" && stage.stop());
    // A theme may turn the page at the very letter that stops a tab (WCAG 2.2, 2.1.4).
    document.addEventListener("keydown", (event) => keys.astray(event) && event.stopPropagation());
    document.addEventListener("play", stage.stop, true); // a recording starts: the player makes way
    root.addEventListener("pagehide", stage.stop);
    whereabouts.listen(document);
    const back = whereabouts.comesBack();
    document.documentElement.toggleAttribute("data-fp-returned", back);
    const all = () => (back ? start(document) : startInTurn(tabsBelow(document)));
    if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", all);
    else all();
  }

  fifthpeg.player = Object.freeze({ start, stop: stage ? stage.stop : null });
  if (root.document) listen(root.document);
  if (typeof module === "object") module.exports = fifthpeg.player;
})(globalThis);
