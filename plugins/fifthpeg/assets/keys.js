/* The keys of a tab. They act only while the focus is in its player, and never with Ctrl, Alt or Meta held. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.keys) return;

  /** needs: what a tab must have for the key to mean anything. */
  const KEYS = [
    { key: "p", does: "press", says: "play or stop" },
    { key: "+", does: "faster", says: "5 beats a minute faster" },
    { key: "-", does: "slower", says: "5 beats a minute slower" },
    { key: "l", does: "loop", says: "loop on or off" },
    { key: "f", does: "loopFrom", says: "loop from this place" },
    { key: "u", does: "loopUpTo", says: "loop up to this place" },
    { key: "b", does: "loopBar", says: "loop this bar" },
    { key: "w", does: "loopWhole", says: "loop the whole" },
    { key: "n", does: "counted", says: "count one bar first, or not" },
    { key: "c", does: "click", says: "click on or off" },
    { key: "a", does: "backing", says: "backing on or off", needs: "stems" },
    { key: "m", does: "muted", says: "leave the lick out, or not", needs: "stems" },
    { key: "r", does: "climbing", says: "climb (raise the tempo) or not" },
    { key: "h", does: "letters", says: "right-hand letters shown or hidden" },
    { key: "v", does: "follow", says: "keep the cursor in view, or not" },
    { key: "o", does: "other", says: "change over to the other tab", needs: "other" },
    { key: "e", does: "before", says: "the chain before", needs: "before" },
    { key: "g", does: "after", says: "the next chain", needs: "after" },
    { key: "k", does: "help", says: "this list" },
  ];
  /** Said in the list; the browser's own sliders do most of it. */
  const PLACE_KEYS = [
    ["← →", "at the place slider: a slot back or on"],
    ["Page Up, Page Down", "at the place slider: a bar on or back"],
    ["Enter", "at the place slider: play from there"],
    ["Escape", "stop"],
  ];
  const TYPED_INTO = "input[type=number], input[type=text], select, textarea";

  /** Listens on elements; act has a function for each name in KEYS, and barOn(bars), go(). */
  function keys(elements, has, act) {
    const known = new Map(usable(has).map((one) => [one.key, one]));
    for (const element of elements) element.addEventListener("keydown", (event) => pressed(event, known, act));
  }

  function pressed(event, known, act) {
    if (event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
    if (event.target.matches(TYPED_INTO)) return;
    const meant = known.get(event.key.toLowerCase());
    if (meant && !event.repeat) act[meant.does]();
    else if (!event.target.matches(".fp-place") || !placed(event.key, act)) return;
    event.preventDefault();
    event.stopPropagation(); // a theme's own keys may turn the page or open the search
  }

  /** Whether it is a key meant for a tab that came to none: the focus was beside its player, or nowhere. */
  function astray({ key, target, ctrlKey, altKey, metaKey }) {
    const nowhere = target === root.document.body || Boolean(target.closest && target.closest("figure.fp-tab"));
    const pressed = String(key).toLowerCase(); // where a browser fills a form in by itself, no key is named
    const known = KEYS.some((one) => one.key === pressed);
    return nowhere && known && !ctrlKey && !altKey && !metaKey;
  }

  function placed(key, act) {
    if (key === "PageUp" || key === "PageDown") act.barOn(key === "PageUp" ? 1 : -1);
    else if (key === "Enter") act.playHere();
    else return false;
    return true;
  }

  function usable(has) {
    return KEYS.filter((one) => !one.needs || has[one.needs]);
  }

  /** [[key, what it does], …] for a tab that has what `has` says. */
  function list(has) {
    return [...usable(has).map(({ key, says }) => [key.toUpperCase(), says]), ...PLACE_KEYS];
  }

  fifthpeg.keys = Object.assign(keys, { list, astray });
  if (typeof module === "object") module.exports = fifthpeg.keys;
})(globalThis);
