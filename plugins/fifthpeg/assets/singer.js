/* "The singer comes back in ? bars": a number is dealt, and a chain is held against it. Values in, values out. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.singer) return;

  const STEP = 0x9e3779b1; // an odd number near 2^32 over the golden ratio: neighbouring seeds fall far apart

  /** One of the lengths, by a seed (a whole number); not the one dealt last, where there is another. */
  function deal(lengths, seed, last = 0) {
    const others = lengths.length > 1 ? lengths.filter((length) => length !== last) : lengths;
    const mixed = Math.imul(seed | 0, STEP) >>> 0;
    return others[Math.floor((mixed / 2 ** 32) * others.length)];
  }

  /**
   * Whether a chain answers. filling: {chord, bars: Map of id to [bars without the exit, with it or null]}; chain: {ids,
   * keepsExit, hasExit, verdicts}: whether its last lick has an exit, and what its seams are; titleOf(id).
   * Gives {fits, clean, says}.
   */
  function judge(wanted, { chord, bars }, { ids, keepsExit, hasExit, verdicts }, titleOf) {
    const no = (says) => ({ fits: false, clean: false, says });
    if (!ids.length) return no(`Nothing is on the bench yet: ${counted(wanted)} to fill.`);
    const strange = ids.find((id) => !bars.has(id));
    if (strange) return no(`${titleOf(strange)} is not over ${chord} throughout.`);
    const [body, full] = bars.get(ids[ids.length - 1]);
    if (hasExit && keepsExit && full === null) return no(`The last exit leaves ${chord}: let it fall away.`);
    const filled = ids.slice(0, -1).reduce((sum, id) => sum + bars.get(id)[0], hasExit && keepsExit ? full : body);
    if (filled < wanted) return no(`${filled} of ${counted(wanted)} so far.`);
    if (filled > wanted) return no(`${counted(filled)}, ${filled - wanted} too many.`);
    const unclean = verdicts.filter((verdict) => verdict !== "clean");
    return { fits: true, clean: !unclean.length, says: fitting(wanted, chord, unclean) };
  }

  function fitting(wanted, chord, unclean) {
    const bars = `It fills the ${counted(wanted)} over ${chord}`;
    if (!unclean.length) return `${bars}, and every seam is clean.`;
    const worst = ["apart", "clash", "tight"].find((verdict) => unclean.includes(verdict));
    if (worst === "apart") return `${bars}, but two of the licks can't stand in one chain.`;
    const [are, them] = unclean.length === 1 ? ["a seam is", "it"] : ["some seams are", "them"];
    return `${bars}, but ${are} not clean (${worst}): see what would mend ${them}.`;
  }

  /** "1 bar", "2 bars" */
  function counted(bars) {
    return bars === 1 ? "1 bar" : `${bars} bars`;
  }

  fifthpeg.singer = Object.freeze({ deal, judge });
  if (typeof module === "object") module.exports = fifthpeg.singer;
})(globalThis);
