/* The drawn tab as the player sees it: which groups to light, and which note a press means. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.drawing) return;

  const REACH_PX = 24; // a press this near a number means it, so that a fingertip finds it

  /** light(marks) lights exactly those; pressed(event) is the mark meant by a press, or null. */
  function drawing(element) {
    const groups = new Map();
    for (const group of element.querySelectorAll("g[data-mark]")) {
      const mark = group.getAttribute("data-mark");
      groups.set(mark, [...(groups.get(mark) || []), group]);
    }
    let lit = [];
    function light(marks) {
      for (const group of lit) group.removeAttribute("data-sounding");
      lit = marks.flatMap((mark) => groups.get(mark) || []);
      for (const group of lit) group.setAttribute("data-sounding", "");
    }
    function pressed(event) {
      const inside = event.target.closest("g[data-mark]");
      if (inside) return inside.getAttribute("data-mark");
      const bar = event.target.closest("svg");
      return bar ? nearestMark(bar.querySelectorAll("g[data-mark]"), event.clientX, event.clientY) : null;
    }
    return { light, pressed };
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
