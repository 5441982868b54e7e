/* Licks laid one after another for the player: exits inside left out, a pick-up over the bar before, strings ringing on.
 * Values in, values out; times are exact fractions of quarters. A lick is as its script brings it: the player's data with
 * body, free and hush (see pages/bench_files.py).
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.laid) return;
  const time = fifthpeg.time || require("./time.js");

  const ZERO = [0, 1];
  const NO_BAR = -1;
  const PLAIN_HAND = [1, 0, 0];

  /**
   * The player's data of a chain of licks, at the tempo of the first. Beside it, in drawn, for each lick which number
   * its own bars have got, {written number: number}, as first played; a pick-up inside and a bar not played have none.
   */
  function laid(licks, keepsExit, title) {
    const [first] = licks;
    const places = placesOf(licks, keepsExit);
    const [bars, numbers] = barsOf(places);
    const last = places[places.length - 1];
    const quarters = last.end;
    return {
      ...first,
      id: null,
      title,
      quarters,
      pickup: first.pickup,
      exit: keepsExit && last.lick.exit ? time.plus(last.start, last.lick.exit) : null,
      links: licks.length < 2 ? [] : places.map(({ lick, start }, link) => ({ link, id: lick.id, title: lick.title, start })),
      drawn: numbers,
      bars,
      notes: ringing(places.flatMap((place, link) => notesOf(place, link, first, numbers[link])), places, quarters),
      stems: stemsOf(places, first),
    };
  }

  /** [{lick, start, limit, end}]: where a lick's own time 0 falls, how far of its own it is played, where the next begins. */
  function placesOf(licks, keepsExit) {
    const places = [];
    let end = ZERO;
    for (const [index, lick] of licks.entries()) {
      const limit = keepsExit && index === licks.length - 1 ? lick.quarters : lick.body;
      const start = index ? time.less(end, lick.pickup) : ZERO;
      end = time.plus(start, wholeBars(lick, limit));
      places.push({ lick, start, limit, end });
    }
    return places;
  }

  /** A bar left short, for the lick's own pick-up, is filled up. */
  function wholeBars(lick, limit) {
    const bar = lick.bars.filter((one) => isBefore(one.slots[0], limit)).pop();
    const whole = bar.bar ? time.plus(bar.barline, lick.full_bar) : limit;
    return isBefore(limit, whole) ? whole : limit;
  }

  /** [bars, numbers by link]: numbered through as played; a pick-up inside belongs to the bar it lies over. */
  function barsOf(places) {
    const bars = [];
    const numbers = places.map(() => ({}));
    for (const [link, { lick, start, limit }] of places.entries()) {
      for (const bar of lick.bars.filter((one) => isBefore(one.slots[0], limit))) {
        const slots = bar.slots.map((at) => time.plus(start, at));
        const under = bars[bars.length - 1];
        if (bar.bar === 0 && under) {
          under.slots = [...under.slots.filter((at) => isBefore(at, slots[0])), ...slots];
          continue;
        }
        const number = bar.bar === 0 ? 0 : numberAfter(under);
        bars.push({ bar: number, pass: 1, first: 1, barline: time.plus(start, bar.barline), slots });
        if (!(bar.bar in numbers[link])) numbers[link][bar.bar] = number;
      }
    }
    return [bars, numbers];
  }

  function numberAfter(bar) {
    return bar ? bar.bar + 1 : 1;
  }

  /** index and free are of the lick; over says that the note sounds over the end of what is played of it. */
  function notesOf({ lick, start, limit }, link, first, numbers) {
    const louder = lick.gain / first.gain;
    const shift = (at) => time.plus(start, at);
    return lick.notes.map((note, index) => ({ note, over: index in lick.free, free: lick.free[index] }))
      .filter(({ note }) => isBefore(note.start, limit))
      .map(({ note, over, free }) => ({
        link,
        over: over && limit === lick.body,
        free: free ? shift(free) : null,
        note: { ...note, link, bar: note.bar in numbers ? numbers[note.bar] : NO_BAR, mark: `${link}-${note.mark}`,
          start: shift(note.start), until: shift(note.until), hand: louderHand(note, louder) },
      }));
  }

  function louderHand({ hand }, louder) {
    const [gain, shade, late] = hand || PLAIN_HAND;
    return [gain * louder, shade, late];
  }

  /** A string rings until it is plucked again, a rest stops it, its finger leaves it, or all is over. */
  function ringing(found, places, quarters) {
    const hushes = places.map(({ lick, start }) => lick.hush && time.plus(start, lick.hush));
    const inOrder = [...found].sort((one, other) => time.compare(one.note.start, other.note.start));
    return inOrder.map(({ note, over, free, link }, index) => {
      const later = inOrder.slice(index + 1);
      const next = later.find((one) => one.note.string === note.string && isBefore(note.start, one.note.start));
      const ends = over ? [free, quarters, hushes.slice(link + 1).find(Boolean)] : [note.until];
      return { ...note, until: earliest([...ends, next && next.note.start]) };
    });
  }

  function stemsOf(places, first) {
    const names = [...new Set(places.flatMap(({ lick }) => (lick.stems || []).map((stem) => stem.name)))];
    const stems = names.map((name) => {
      const gain = places.map(({ lick }) => stemOf(lick, name)).find(Boolean).gain;
      return { name, gain, notes: places.flatMap((place) => stemNotes(place, stemOf(place.lick, name), gain * first.gain)) };
    });
    return stems.length ? stems : null;
  }

  function stemNotes({ lick, start, limit }, stem, level) {
    if (!stem) return [];
    const hand = [(stem.gain * lick.gain) / level, 0, 0];
    return stem.notes.filter((note) => isBefore(note.start, limit))
      .map((note) => ({ ...note, hand, start: time.plus(start, note.start),
        until: time.plus(start, earliest([note.until, limit])) }));
  }

  function stemOf(lick, name) {
    return (lick.stems || []).find((stem) => stem.name === name);
  }

  function earliest(times) {
    return times.filter(Boolean).reduce((one, other) => (isBefore(other, one) ? other : one));
  }

  function isBefore(one, other) {
    return time.compare(one, other) < 0;
  }

  fifthpeg.laid = laid;
  if (typeof module === "object") module.exports = fifthpeg.laid;
})(globalThis);
