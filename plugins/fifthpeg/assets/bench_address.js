/* A chain in an address, "#chain=weir-run,sluice-tag&exit=no", and as kept: only licks of the course come through. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.benchAddress) return;

  const MOST_LINKS = 64; // as in a chain block
  const MOST_LETTERS = 8192;

  /** chain: {ids, keepsExit}. Nothing for an empty one. */
  function written({ ids, keepsExit }) {
    return ids.length ? `#chain=${ids.join(",")}${keepsExit ? "" : "&exit=no"}` : "";
  }

  /** Gives {chain, lost}, lost being how many links were not known or too many; chain is null where there is none. */
  function read(hash, licks) {
    const words = new URLSearchParams(String(hash).slice(1, MOST_LETTERS));
    const listed = words.get("chain");
    return listed === null ? { chain: null, lost: 0 } : known(listed.split(",").filter(Boolean), words.get("exit") !== "no", licks);
  }

  /** The same of what was kept in the browser. */
  function recall(kept, licks) {
    return Array.isArray(kept.ids) ? known(kept.ids, kept.keepsExit !== false, licks) : { chain: null, lost: 0 };
  }

  function known(named, keepsExit, licks) {
    const ids = named.filter((id) => licks.has(id)).slice(0, MOST_LINKS);
    return { chain: { ids, keepsExit }, lost: named.length - ids.length };
  }

  fifthpeg.benchAddress = Object.freeze({ written, read, recall, MOST_LINKS });
  if (typeof module === "object") module.exports = fifthpeg.benchAddress;
})(globalThis);
