/* Elements made by hand: text is always text, never markup. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.dom) return;

  /** Attributes that are false or null are left out, true ones are empty. */
  function element(name, attributes, ...children) {
    const made = root.document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (value !== false && value !== null) made.setAttribute(key, value === true ? "" : value);
    }
    made.append(...children);
    return made;
  }

  function button(words, press, attributes = {}) {
    const made = element("button", { type: "button", class: "fp-button", ...attributes }, words);
    made.addEventListener("click", press);
    return made;
  }

  /** A slider; moved is called with its number while it is moved. */
  function slider(attributes, moved) {
    const made = element("input", { type: "range", ...attributes });
    made.addEventListener("input", () => moved(Number(made.value)));
    return made;
  }

  fifthpeg.dom = Object.freeze({ element, button, slider });
  if (typeof module === "object") module.exports = fifthpeg.dom;
})(globalThis);
