/* A run of slots picked by drawing a finger or the mouse across the tab. Up and down still scrolls the page. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.picking) return;

  const A_DRAG_PX = 12; // less is a press

  /**
   * on: {slotAt(x, y), picking(from, to), picked(from, to), dropped()}, with places as slotAt gives them.
   * A click that ends a drag is kept from the page.
   */
  function picking(element, on) {
    let drag = null;

    element.addEventListener("pointerdown", (event) => {
      const from = event.isPrimary && event.button === 0 ? on.slotAt(event.clientX, event.clientY) : null;
      drag = from && { from, to: from, x: event.clientX, far: false, pointer: event.pointerId };
    });
    element.addEventListener("pointermove", (event) => {
      if (!drag || event.pointerId !== drag.pointer) return;
      if (!drag.far && Math.abs(event.clientX - drag.x) < A_DRAG_PX) return;
      if (!drag.far) element.setPointerCapture(event.pointerId);
      drag.far = true;
      drag.to = on.slotAt(event.clientX, event.clientY) || drag.to;
      on.picking(drag.from, drag.to);
    });
    element.addEventListener("pointerup", () => {
      if (drag && drag.far) {
        swallowClick(element);
        on.picked(drag.from, drag.to);
      }
      drag = null;
    });
    element.addEventListener("pointercancel", () => {
      if (drag && drag.far) on.dropped();
      drag = null;
    });
  }

  function swallowClick(element) {
    const swallow = (event) => event.stopImmediatePropagation();
    element.addEventListener("click", swallow, { capture: true, once: true });
    root.setTimeout(() => element.removeEventListener("click", swallow, { capture: true }), 0);
  }

  fifthpeg.picking = picking;
  if (typeof module === "object") module.exports = fifthpeg.picking;
})(globalThis);
