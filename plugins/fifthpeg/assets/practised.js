/* What the practice page shows and does with what is kept: records in, records out. No page here. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.practised) return;
  const progress = fifthpeg.progress || require("./progress.js");

  const BY_CODE = (one, other) => (one < other ? -1 : one > other ? 1 : 0);

  /**
   * store as memory.js makes it; course: Map of id to {title, full}, whose words count before the kept ones. Gives
   * [{id, title, full, best, played, day, known}], the last practised first, without licks never played through.
   */
  function practised(store, course) {
    const ids = store.names(progress.FOLDER).map((name) => name.slice(progress.FOLDER.length)).filter(progress.isId);
    return ids.map((id) => recordOf(id, progress(store.read(progress.nameOf(id))), course.get(id)))
      .filter(({ best, played, day }) => best || played || day)
      .sort((one, other) => BY_CODE(other.day, one.day) || BY_CODE(one.title, other.title) || BY_CODE(one.id, other.id));
  }

  function recordOf(id, kept, known) {
    const { title, full } = known || {};
    return { id, ...kept, title: title || kept.title || id, full: full || kept.full, known: Boolean(known) };
  }

  /** Joins records with what is kept. Gives how many were taken in: fewer than all where the room ran out. */
  function takeIn(store, records) {
    let count = 0;
    for (const { id, ...record } of records) {
      const own = store.read(progress.nameOf(id));
      if (!store.write(progress.nameOf(id), { ...own, ...progress.joined(progress(own), record) })) break;
      count += 1;
    }
    return count;
  }

  /** Forgets every lick, with its tempo and its loop. Gives whether all are gone. */
  function forget(store) {
    return store.names(progress.FOLDER).map((name) => store.drop(name)).every(Boolean);
  }

  /** Per cent of the full tempo, 0 where it is not known. */
  function share({ best, full }) {
    return full ? Math.round((100 * best) / full) : 0;
  }

  fifthpeg.practised = Object.assign(practised, { takeIn, forget, share });
  if (typeof module === "object") module.exports = fifthpeg.practised;
})(globalThis);
