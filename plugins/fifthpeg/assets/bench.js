/* What the bench knows of the course: its licks, how each follows each, and the notes of those picked. All from the build. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.bench) return;

  const VERDICTS = { 0: "clean", 1: "tight", 2: "clash", "-": "apart" };
  const CLEAN_SAYS = "Clean: no right-hand finger picks twice in a row there.";
  const APART_SAYS = "These two can't stand in one chain: another meter, slot, tuning or capo, or a pick-up that finds no room.";
  const UNSAID = "This library is too large to say more of it here; the page of the first lick may.";
  const licks = new Map(); // id -> {id, title, role, key, labels, body, full, tempo, beats, place}
  const scores = new Map(); // id -> what lick() brought
  let data = null;

  /** Called by the library's script, once. */
  function library(brought) {
    data = brought;
    data.licks.forEach(([id, title, role, key, labels, body, full, tempo, beats], place) =>
      licks.set(id, { id, title, role, key, labels, body, full, tempo, beats, place }));
    if (fifthpeg.benchPage) fifthpeg.benchPage.start(root.document);
  }

  /** Called by a lick's script. */
  function lick(id, score) {
    scores.set(id, score);
  }

  /** {verdict, says, repairs: [sentence]} of one lick's end and another's beginning. */
  function seam(beforeId, afterId) {
    const [before, after] = [licks.get(beforeId), licks.get(afterId)];
    const verdict = VERDICTS[data.rows[before.place][after.place]];
    if (verdict === "apart") return { verdict, says: APART_SAYS, repairs: [] };
    if (verdict === "clean") return { verdict, says: CLEAN_SAYS, repairs: [] };
    if (!data.seams) return { verdict, says: `${verdict[0].toUpperCase()}${verdict.slice(1)}. ${UNSAID}`, repairs: [] };
    const [says, ...repairs] = data.seams[before.place][after.place].map((place) => data.says[place]);
    return { verdict, says, repairs };
  }

  /** How many bars a chain fills; its last exit is kept or not. */
  function bars(ids, keepsExit) {
    return ids.reduce((sum, id, index) => sum + licks.get(id)[keepsExit && index === ids.length - 1 ? "full" : "body"], 0);
  }

  /** The notes of licks, each fetched once, from a folder: an array, or null where one did not come. Never rejects. */
  async function load(folder, ids) {
    const waiting = [...new Set(ids)].filter((id) => !scores.has(id));
    await Promise.all(waiting.map((id) => addScript(`${folder}licks/${id}.js`)));
    return ids.every((id) => scores.has(id)) ? ids.map((id) => scores.get(id)) : null;
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

  fifthpeg.bench = Object.freeze({ library, lick, seam, bars, load, licks });
  if (typeof module === "object") module.exports = fifthpeg.bench;
})(globalThis);
