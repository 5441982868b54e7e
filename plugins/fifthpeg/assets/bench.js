/* What the bench knows of the course, all from the build: its licks, how each follows each, the notes of those picked. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.bench) return;

  const VERDICTS = { 0: "clean", 1: "tight", 2: "clash", "-": "apart" };
  const CLEAN_SAYS = "Clean: no right-hand finger picks twice in a row there.";
  const APART_SAYS = "These two can't stand in one chain: another meter, slot, tuning or capo, "
    + "or a pick-up that finds no room.";
  const UNSAID = "This library is too large to say more of it here; the page of the first lick may.";
  const licks = new Map(); // id -> {id, title, role, key, labels, body, full, tempo, beats, place}
  const scores = new Map(); // "licks/…" or "vamps/…" -> what notes() brought
  let data = null;

  /** Called by the library's script, once. */
  function library(brought) {
    data = brought;
    data.licks.forEach(([id, title, role, key, labels, body, full, tempo, beats], place) =>
      licks.set(id, { id, title, role, key, labels, body, full, tempo, beats, place }));
    if (fifthpeg.benchPage) fifthpeg.benchPage.start(root.document);
  }

  /** Called by the script of a lick or a vamp. */
  function notes(name, score) {
    scores.set(name, score);
  }

  /** [{chord, lengths, bars, name}]: bars maps ids of the licks under the chord to [without the exit, with it]. */
  function fillings() {
    return data.fillings.map(([chord, lengths, bars], number) => ({
      chord, lengths, name: `vamps/${number}`,
      bars: new Map(Object.entries(bars).map(([place, counts]) => [data.licks[place][0], counts])),
    }));
  }

  /** {verdict, says, repairs: [sentence]} of one lick's end and another's beginning. */
  function seam(beforeId, afterId) {
    const [before, after] = [licks.get(beforeId), licks.get(afterId)];
    const verdict = VERDICTS[data.rows[before.place][after.place]];
    if (verdict === "apart") return { verdict, says: APART_SAYS, repairs: [] };
    if (verdict === "clean") return { verdict, says: CLEAN_SAYS, repairs: [] };
    if (!data.seams) return { verdict, says: `A ${verdict === "tight" ? "tight seam" : verdict}. ${UNSAID}`, repairs: [] };
    const [says, ...repairs] = data.seams[before.place][after.place].map((place) => data.says[place]);
    return { verdict, says, repairs };
  }

  /** How many bars a chain fills; its last exit is kept or not. */
  function bars(ids, keepsExit) {
    return ids.reduce((sum, id, index) => sum + licks.get(id)[keepsExit && index === ids.length - 1 ? "full" : "body"], 0);
  }

  /** The notes of these names, each fetched once, in an array; null where one did not come. Never rejects. */
  async function load(folder, names) {
    const waiting = [...new Set(names)].filter((name) => !scores.has(name));
    await Promise.all(waiting.map((name) => addScript(`${folder}${name}.js`)));
    return names.every((name) => scores.has(name)) ? names.map((name) => scores.get(name)) : null;
  }

  function addScript(address) {
    return new Promise((resolve) => {
      const script = root.document.createElement("script");
      script.onload = script.onerror = () => {
        script.remove();
        resolve();
      };
      script.src = address;
      root.document.head.append(script);
    });
  }

  fifthpeg.bench = Object.freeze({ library, notes, seam, bars, fillings, load, licks });
  if (typeof module === "object") module.exports = fifthpeg.bench;
})(globalThis);
