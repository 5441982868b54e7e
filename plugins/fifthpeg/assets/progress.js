/* How far a student has come with a lick: best tempo, passes played, last day. Read with suspicion, joined without loss. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.progress) return;
  const { whole } = fifthpeg.memory || require("./memory.js");

  const MOST_BEATS = 600; // half as fast again as the fastest tempo a block may have
  const MOST_PLAYED = 999999;
  const MOST_TITLE = 120;
  const ID = /^[a-z0-9]+(-[a-z0-9]+)*$/;
  const MOST_ID = 64;
  const DAY = /^\d{4}-\d{2}-\d{2}$/;
  const FOLDER = "lick/";

  /** {title, full, best, played, day} of anything kept: 0 and "" for what is missing or can't be. */
  function progress(value) {
    return {
      title: isTitle(value.title) ? value.title : "",
      full: whole(value.full, 1, MOST_BEATS, 0),
      best: whole(value.best, 1, MOST_BEATS, 0),
      played: whole(value.played, 0, MOST_PLAYED, 0),
      day: isDay(value.day) ? value.day : "",
    };
  }

  /** Both of one lick as one: the faster best, the larger count, the later day. Joining twice changes nothing more. */
  function joined(one, other) {
    return {
      title: one.title || other.title,
      full: one.full || other.full,
      best: Math.max(one.best, other.best),
      played: Math.max(one.played, other.played),
      day: one.day > other.day ? one.day : other.day,
    };
  }

  /** A pass more, on a day. */
  function onceMore(one, day) {
    return { ...one, played: Math.min(one.played + 1, MOST_PLAYED), day: one.day > day ? one.day : day };
  }

  /** The reader's own day of a Date, as "2026-11-27". */
  function dayOf(date) {
    const two = (number) => String(number).padStart(2, "0");
    return `${String(date.getFullYear()).padStart(4, "0")}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
  }

  /** Whether a text is a day of the calendar, in that form. */
  function isDay(value) {
    if (typeof value !== "string" || !DAY.test(value)) return false;
    const date = new Date(`${value}T00:00:00Z`);
    return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(value);
  }

  function isId(value) {
    return typeof value === "string" && value.length <= MOST_ID && ID.test(value);
  }

  function isTitle(value) {
    return typeof value === "string" && value.length <= MOST_TITLE;
  }

  /** What a lick's record is kept under. */
  function nameOf(id) {
    return FOLDER + id;
  }

  fifthpeg.progress = Object.assign(progress, {
    joined, onceMore, dayOf, isDay, isId, isTitle, nameOf, FOLDER, MOST_BEATS, MOST_PLAYED, MOST_TITLE,
  });
  if (typeof module === "object") module.exports = fifthpeg.progress;
})(globalThis);
