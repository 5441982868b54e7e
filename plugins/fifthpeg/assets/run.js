/* One playing of a tab: its stretches handed to Web Audio a little ahead of time, and changed while they sound. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.run) return;
  const time = fifthpeg.time || require("./time.js");
  const score = fifthpeg.score || require("./score.js");
  const stretch = fifthpeg.stretch || require("./stretch.js");
  const strings = fifthpeg.strings || require("./strings.js");
  const mixer = fifthpeg.mixer || require("./mixer.js");
  const click = fifthpeg.click || require("./click.js");

  const LEAD_SECONDS = 0.03; // from the press, or a change, to the first sound it asks for: room to hand it over
  const AHEAD_SECONDS = 0.5; // a page that is busy 200 ms at a time may wake this loop 300 ms late
  const AHEAD_HIDDEN_SECONDS = 2.5; // a hidden page is woken once a second
  const KEPT_SECONDS = 3; // the past, for a cursor behind a slow loudspeaker
  const WAKE_EVERY_MS = 50;
  const HUSH_SECONDS = 0.005; // stop is a short ramp, not a click
  const EASE_SECONDS = 0.008; // a level moves this fast towards a new one

  /**
   * Begins at once. tab is {data, scoreAt, buffers, wishes(), levels(), from, counted, onEnd, joining}:
   * wishes as stretch.js has them; levels() is {part: linear level, "all": …}; counted says whether a bar is
   * counted first; joining is {zeroSeconds, frame} of a run that hands over to this one, without a gap.
   * onEnd is called once the last tail has rung.
   */
  function run(context, tab) {
    const { data } = tab;
    const rateHz = data.rate;
    const joining = inTime(context, tab.joining, rateHz) ? tab.joining : null;
    const zeroSeconds = joining ? joining.zeroSeconds : soonest(context);
    const [all, outputOf] = desk(context, tab);
    const channels = strings(context);
    const handed = new Set(); // {source, at}: what Web Audio has and has not yet ended
    const countScore = score.countIn(data, tab.from);
    let stretches = [];
    let queue = [];
    let timer = 0;
    let over = false;

    function add(one) {
      const events = stretch.eventsOf(one, one.kind === "count" ? countScore : tab.scoreAt);
      stretches.push(one);
      queue.push(...events.map((event) => ({ ...event, owner: one })));
    }
    function plan(horizonFrame) {
      let last = stretches[stretches.length - 1];
      while (last && last.end < horizonFrame) {
        last = stretch.following(last, tab.wishes());
        if (last) add(last);
      }
      const past = frameNow() - KEPT_SECONDS * rateHz;
      while (stretches.length > 1 && stretches[0].end < past) stretches.shift();
    }
    function pump() {
      root.clearTimeout(timer);
      if (over) return;
      const horizonFrame = frameNow() + aheadSeconds() * rateHz;
      plan(horizonFrame);
      while (queue.length && queue[0].at < horizonFrame) handOver(queue.shift());
      if (queue.length || handed.size || stretches[stretches.length - 1].end > frameNow()) {
        timer = root.setTimeout(pump, WAKE_EVERY_MS);
      } else {
        over = true;
        tab.onEnd();
      }
    }
    function handOver(event) {
      const source = event.voice ? handVoice(event) : handClick(event);
      if (!source) return;
      const entry = { source, at: event.at };
      handed.add(entry);
      source.onended = () => handed.delete(entry);
    }
    function handVoice({ part, voice, owner, at }) {
      const sound = tab.buffers.get(voice.sound);
      if (!sound) return null; // an accompaniment still on its way
      const string = `${part} ${voice.sound.split("-")[0]}`;
      const channel = channels.channel(string, owner, zeroSeconds + at / rateHz, outputOf(part));
      return mixer.place(context, channel, voice, sound, zeroSeconds + owner.offset / rateHz, rateHz);
    }
    /** None at a level of 0. Turned up, ticks are heard from the next beat: a change hands over anew. */
    function handClick({ part, first, at, owner }) {
      if (tab.levels()[part] === 0) return null;
      const when = zeroSeconds + at / rateHz;
      const room = part === score.COUNT ? owner.end - at : Infinity; // the lick begins in silence
      const samples = click(first, rateHz, room);
      const source = context.createBufferSource();
      source.buffer = context.createBuffer(1, samples.length, rateHz);
      source.buffer.copyToChannel(samples, 0);
      source.connect(channels.channel(part, owner, when, outputOf(part)));
      source.start(when);
      return source;
    }

    /** Takes back what has not sounded by a frame. */
    function takeBack(frame) {
      queue = queue.filter((event) => event.at < frame);
      for (const entry of handed) {
        if (entry.at < frame) continue;
        entry.source.onended = null;
        entry.source.stop();
        entry.source.disconnect();
        handed.delete(entry);
      }
      channels.undo(zeroSeconds + frame / rateHz);
    }
    /** The wishes have changed. jump: into the loop, from outside it. */
    function change(jump = false) {
      const frame = soonestFrame();
      if (over) return;
      if (frame >= stretches[stretches.length - 1].end) return goRound(frame);
      plan(frame + 1);
      const { stretch: one } = stretch.placeAt(stretches, frame);
      takeBack(frame);
      stretches = stretches.filter((other) => other.begin < frame || other === one);
      if (one.begin >= frame) stretches.pop();
      add(stretch.recut(one, frame, tab.wishes(), jump));
      pump();
    }
    /** A loop asked for while only tails ring begins at its beginning. */
    function goRound(frame) {
      const { loop } = tab.wishes();
      if (!loop) return;
      add(stretch.opening(loop.from, null, frame, tab.wishes(), rateHz));
      pump();
    }
    /** Falls silent for another run; gives what that one needs to go on: {joining, from}, as tab has them. */
    function leave() {
      const frame = soonestFrame();
      plan(frame + 1);
      const { stretch: one } = stretch.placeAt(stretches, frame);
      const from = time.quartersAt(Math.min(frame, one.end) - one.offset, one.tempo, rateHz);
      takeBack(frame);
      channels.hush(zeroSeconds + frame / rateHz);
      finish();
      return { joining: { zeroSeconds, frame }, from: one.kind === "count" ? one.to : from };
    }
    function stop() {
      const end = context.currentTime + HUSH_SECONDS;
      takeBack(frameNow() + HUSH_SECONDS * rateHz);
      all.gain.cancelScheduledValues(0);
      all.gain.setValueAtTime(all.gain.value, context.currentTime);
      all.gain.linearRampToValueAtTime(0, end);
      for (const { source } of handed) source.stop(end);
      finish();
    }
    function finish() {
      over = true;
      root.clearTimeout(timer);
    }
    function setLevels() {
      for (const [part, level] of Object.entries(tab.levels())) {
        outputOf(part).gain.setTargetAtTime(level, context.currentTime, EASE_SECONDS);
      }
    }
    function frameNow() {
      return (context.currentTime - zeroSeconds) * rateHz;
    }
    function soonestFrame() {
      return Math.max(Math.ceil(frameNow() + LEAD_SECONDS * rateHz), stretches[0].begin);
    }
    /** Where the run is at a time of the context: {stretch, quarters}, or null before it begins. */
    function placeAt(seconds) {
      return stretch.placeAt(stretches, (seconds - zeroSeconds) * rateHz);
    }

    const countFrom = tab.counted ? score.countFrom(data, tab.from) : null;
    add(stretch.opening(tab.from, countFrom, joining ? joining.frame : 0, tab.wishes(), rateHz));
    pump();
    return { pump, change, setLevels, stop, leave, placeAt };
  }

  /** The mixing desk: [the gain before the loudspeaker, a function from a part to its gain]. */
  function desk(context, { data, levels }) {
    const outputs = new Map();
    const levelOf = levels();
    const made = (part, level, output) => {
      const gain = context.createGain();
      gain.gain.value = level;
      gain.connect(output);
      outputs.set(part, gain);
      return gain;
    };
    const all = made("out", 1, context.destination);
    const room = made("all", levelOf.all, all);
    const music = made("music", data.gain, room);
    for (const [part, level] of Object.entries(levelOf)) {
      if (part !== "all") made(part, level, [score.CLICK, score.COUNT].includes(part) ? room : music);
    }
    return [all, (part) => outputs.get(part)];
  }

  /** The next whole frame of the context there is time to prepare for, in seconds. */
  function soonest(context) {
    return Math.ceil((context.currentTime + LEAD_SECONDS) * context.sampleRate) / context.sampleRate;
  }

  /** A run that had to wait for its sounds joins nothing: it begins when it can. */
  function inTime(context, joining, rateHz) {
    return joining && joining.zeroSeconds + joining.frame / rateHz > context.currentTime;
  }

  function aheadSeconds() {
    return root.document && root.document.hidden ? AHEAD_HIDDEN_SECONDS : AHEAD_SECONDS;
  }

  fifthpeg.run = run;
  if (typeof module === "object") module.exports = fifthpeg.run;
})(globalThis);
