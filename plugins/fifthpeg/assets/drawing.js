/* The drawn tab as the player sees it: which groups to light, which note or slot a press means, a loop shown. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.drawing) return;
  const geometry = fifthpeg.geometry || require("./geometry.js");

  const REACH_PX = 24; // a press this near a number means it, so that a fingertip finds it
  const EDGE = 2; // of a loop, in the drawing's unit
  const SVG = "http://www.w3.org/2000/svg";

  /** Of a tab's element and its data; bars repeated are drawn once. */
  function drawing(element, data) {
    const groups = once(() => groupsOf(element));
    const bars = once(() => barsOf(element, data));
    let lit = [];
    let shown = [];
    return {
      /** Lights exactly those marks. */
      light(marks) {
        for (const group of lit) group.removeAttribute("data-sounding");
        lit = marks.flatMap((mark) => groups().get(mark) || []);
        for (const group of lit) group.setAttribute("data-sounding", "");
      },
      /** The mark meant by a press, or null. */
      pressed(event) {
        const inside = event.target.closest("g[data-mark]");
        if (inside) return inside.getAttribute("data-mark");
        const bar = event.target.closest("svg");
        return bar ? nearestMark(bar.querySelectorAll("g[data-mark]"), event.clientX, event.clientY) : null;
      },
      /** [bar number, slot from 1] under a place on the screen, or null beside the bars. */
      slotAt(clientX, clientY) {
        for (const [number, bar] of bars()) {
          const box = bar.svg.getBoundingClientRect();
          const inside = clientX >= box.left && clientX <= box.right && clientY >= box.top && clientY <= box.bottom;
          if (inside) return [number, geometry.slotAt(bar, clientX)];
        }
        return null;
      },
      /** Shades the written slots [[bar, slot], …] of a loop, or none. */
      shade(places) {
        for (const rect of shown) rect.remove();
        shown = places.length ? [...bars()].flatMap(([number, bar]) => shadeBar(number, bar, places)) : [];
      },
      /** Brings the lit notes' bar into view. */
      reveal() {
        const bar = lit.length ? lit[0].closest("svg") : null;
        const still = root.matchMedia("(prefers-reduced-motion: reduce)").matches;
        if (bar) bar.scrollIntoView({ block: "nearest", behavior: still ? "auto" : "smooth" });
      },
    };
  }

  /** What is made when it is first asked for: a page has many tabs, and few of them are played. */
  function once(make) {
    let made = null;
    return () => (made = made || make());
  }

  function groupsOf(element) {
    const groups = new Map();
    for (const group of element.querySelectorAll("g[data-mark]")) {
      const mark = group.getAttribute("data-mark");
      groups.set(mark, [...(groups.get(mark) || []), group]);
    }
    return groups;
  }

  function barsOf(element, data) {
    const bars = new Map();
    for (const svg of element.querySelectorAll("svg[data-bar]")) {
      const number = Number(svg.getAttribute("data-bar"));
      const bar = data.bars.find((one) => one.bar === number);
      if (bar) bars.set(number, geometry.barOf(svg, bar, data.notes.filter((note) => note.bar === number)));
    }
    return bars;
  }

  /** A tint over the slots, and a line where the loop begins and where it ends. */
  function shadeBar(number, bar, places) {
    const inside = places.filter(([one]) => one === number).map(([, slot]) => slot - bar.first);
    if (!inside.length) return [];
    const [left, right] = [bar.edges[Math.min(...inside)], bar.edges[Math.max(...inside) + 1]];
    const rects = [rectOf("fp-loop-shade", left, right - left, bar.height)];
    if (places[0][0] === number) rects.push(rectOf("fp-loop-edge", left, EDGE, bar.height));
    if (places[places.length - 1][0] === number) rects.push(rectOf("fp-loop-edge", right - EDGE, EDGE, bar.height));
    bar.svg.prepend(...rects);
    return rects;
  }

  function rectOf(name, x, width, height) {
    const rect = root.document.createElementNS(SVG, "rect");
    const box = { class: name, x, y: 0, width, height, "pointer-events": "none" };
    for (const [attribute, value] of Object.entries(box)) rect.setAttribute(attribute, value);
    return rect;
  }

  function nearestMark(groups, x, y) {
    let [nearest, least] = [null, REACH_PX];
    for (const group of groups) {
      const distance = distanceTo(group.getBoundingClientRect(), x, y);
      if (distance >= least) continue;
      [nearest, least] = [group.getAttribute("data-mark"), distance];
    }
    return nearest;
  }

  function distanceTo(box, x, y) {
    return Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));
  }

  fifthpeg.drawing = drawing;
  if (typeof module === "object") module.exports = fifthpeg.drawing;
})(globalThis);
