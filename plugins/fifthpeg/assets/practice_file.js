/* The file a student carries practice in from one browser to another: written, and read field by field. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.practiceFile) return;
  const { whole } = fifthpeg.memory || require("./memory.js");
  const progress = fifthpeg.progress || require("./progress.js");

  const KIND = "practice on the five-string banjo";
  const VERSION = 1;
  const MOST_LETTERS = 4000000; // several times what the largest course can come to
  const MOST_LICKS = 10000;
  const FIELDS = ["id", "title", "full", "best", "played", "day"];
  const UNCHANGED = "Nothing has been changed here.";

  /** records: [{id, title, full, best, played, day}]. The same records give the same text. */
  function written(records) {
    const licks = records.map((record) => Object.fromEntries(FIELDS.map((name) => [name, record[name]])));
    return `${JSON.stringify({ kind: KIND, version: VERSION, licks }, null, 1)}\n`;
  }

  /** today as progress.js has days. Gives {records} or, where one word is wrong, {says: a sentence} and nothing else. */
  function read(text, today) {
    const says = (words) => ({ says: `${words} ${UNCHANGED}` });
    if (text.length > MOST_LETTERS) return says("This file is far too large for one of practice.");
    const file = parsed(text);
    if (!isObject(file) || file.kind !== KIND) return says("This is not a practice file saved from these pages.");
    if (!Number.isInteger(file.version) || file.version < 1) return says("This file doesn't say which version it is.");
    if (file.version > VERSION) return says("This file was kept by a newer edition of these pages than this one can read.");
    if (!Array.isArray(file.licks)) return says("This file has no list of licks.");
    if (file.licks.length > MOST_LICKS) return says(`This file lists more than ${MOST_LICKS} licks.`);
    return recordsOf(file.licks, latest(today), says);
  }

  function recordsOf(licks, latestDay, says) {
    const records = new Map();
    for (const [index, lick] of licks.entries()) {
      const fault = isObject(lick) ? faultOf(lick, latestDay) : "can't be read";
      if (fault) return says(`In this file, lick ${index + 1} of ${licks.length} ${fault}.`);
      const one = progress(lick);
      records.set(lick.id, records.has(lick.id) ? progress.joined(records.get(lick.id), one) : one);
    }
    return { records: [...records].map(([id, one]) => ({ id, ...one })) };
  }

  /** What is wrong with a lick of the file, or "". */
  function faultOf(lick, latestDay) {
    const number = (name, most) => whole(lick[name], 0, most, -1) >= 0;
    const extra = Object.keys(lick).find((name) => !FIELDS.includes(name));
    if (extra !== undefined) return "says something that no such file says";
    if (!progress.isId(lick.id)) return "has a name that no lick could have";
    if (!progress.isTitle(lick.title)) return "has no title, or one that is too long";
    if (!number("full", progress.MOST_BEATS)) return `has a full tempo that is no whole number up to ${progress.MOST_BEATS}`;
    if (!number("best", progress.MOST_BEATS)) return `has a best tempo that is no whole number up to ${progress.MOST_BEATS}`;
    if (!number("played", progress.MOST_PLAYED)) return "has a count of passes that is no whole number";
    if (lick.day !== "" && !progress.isDay(lick.day)) return "has a day that is not in the calendar";
    if (lick.day > latestDay) return "was practised on a day that is still to come";
    return "";
  }

  /** One day on: the file may come from a place where it is tomorrow already. */
  function latest(today) {
    const date = new Date(`${today}T00:00:00Z`);
    date.setUTCDate(date.getUTCDate() + 1);
    return date.toISOString().slice(0, 10);
  }

  function parsed(text) {
    try {
      return JSON.parse(text);
    } catch {
      return null;
    }
  }

  function isObject(value) {
    return typeof value === "object" && value !== null && !Array.isArray(value);
  }

  fifthpeg.practiceFile = Object.freeze({ written, read });
  if (typeof module === "object") module.exports = fifthpeg.practiceFile;
})(globalThis);
