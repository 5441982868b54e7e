/* Where the slots lie in the drawn bars: a loop is picked by them and shown over them. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.geometry) return;

  const MARGIN = 3; // before a number, in the drawing's own unit

  /**
   * Of one bar: {svg, width, height, first, edges}. edges[i] is where slot first + i begins, in the drawing's
   * unit; the last edge is the bar's end. Between written notes the slots lie evenly.
   */
  function barOf(svg, bar, notes) {
    const box = svg.viewBox.baseVal;
    const [width, height] = box && box.width ? [box.width, box.height] : [number(svg, "width"), number(svg, "height")];
    const known = new Map([[0, 0], [bar.slots.length, width]]);
    for (const note of notes) {
      const left = leftOf(svg, note.mark);
      const index = note.slot - bar.first;
      if (left === null || (index && known.has(index) && known.get(index) <= left - MARGIN)) continue;
      if (index) known.set(index, left - MARGIN);
    }
    return { svg, width, height, first: bar.first, edges: edgesOf(known, bar.slots.length) };
  }

  function edgesOf(known, count) {
    const indexes = [...known.keys()].sort((one, other) => one - other);
    return Array.from({ length: count + 1 }, (_, index) => {
      const after = indexes.find((one) => one >= index);
      const before = indexes.filter((one) => one <= index).pop();
      const share = after === before ? 0 : (index - before) / (after - before);
      return known.get(before) + share * (known.get(after) - known.get(before));
    });
  }

  /** The slot of a bar under a place on the screen. */
  function slotAt(bar, clientX) {
    const box = bar.svg.getBoundingClientRect();
    const x = ((clientX - box.left) / box.width) * bar.width;
    const index = bar.edges.filter((edge) => edge <= x).length - 1;
    return bar.first + Math.min(Math.max(index, 0), bar.edges.length - 2);
  }

  function leftOf(svg, mark) {
    const halo = [...svg.querySelectorAll("g[data-mark]")].find((group) => group.getAttribute("data-mark") === mark);
    const rect = halo && halo.querySelector("rect");
    return rect ? number(rect, "x") : null;
  }

  function number(element, attribute) {
    return Number(element.getAttribute(attribute));
  }

  fifthpeg.geometry = Object.freeze({ barOf, slotAt, edgesOf });
  if (typeof module === "object") module.exports = fifthpeg.geometry;
})(globalThis);
