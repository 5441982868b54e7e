/* From voices to sound: the samples of one voice, and a lick handed to Web Audio a little ahead of time. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.mixer) return;

  const AHEAD_SECONDS = 0.3; // a busy page wakes the loop up to 100 ms late
  const AHEAD_HIDDEN_SECONDS = 2.5; // a hidden page is woken once a second
  const WAKE_EVERY_MS = 50;
  const HUSH_SECONDS = 0.005; // stop is a short ramp, not a click

  /**
   * Plays voices (frames at rateHz) from the lick's frame fromFrame on, through a gain.
   * The lick's frame 0 lies at zeroSeconds of the context. Gives {zeroSeconds, fromSeconds, stop};
   * fromSeconds is where it began, counted from zeroSeconds. onEnd is called once the last tail has rung.
   */
  function play(context, { voices, buffers, fromFrame, rateHz, gain, leadSeconds, onEnd }) {
    const output = outputOf(context, gain);
    const firstFrame = Math.ceil((context.currentTime + leadSeconds) * context.sampleRate);
    const zeroSeconds = firstFrame / context.sampleRate - fromFrame / rateHz;
    const waiting = voices.filter((voice) => voice.start >= fromFrame).sort((one, other) => one.start - other.start);
    const handed = new Set();
    let timer = 0;

    function handOver() {
      while (waiting.length && zeroSeconds + waiting[0].start / rateHz < horizon(context)) {
        const voice = waiting.shift();
        const source = place(context, output, voice, buffers.get(voice.sound), zeroSeconds, rateHz);
        handed.add(source);
        source.onended = () => handed.delete(source);
      }
      if (waiting.length || handed.size) timer = root.setTimeout(handOver, WAKE_EVERY_MS);
      else onEnd();
    }
    function stop() {
      root.clearTimeout(timer);
      const end = context.currentTime + HUSH_SECONDS;
      output.gain.setValueAtTime(gain, context.currentTime);
      output.gain.linearRampToValueAtTime(0, end);
      for (const source of handed) source.stop(end);
    }
    handOver();
    return { zeroSeconds, fromSeconds: fromFrame / rateHz, stop };
  }

  /** One voice on any context, live or offline, whose lick begins at zeroSeconds. */
  function place(context, output, voice, sound, zeroSeconds, rateHz) {
    const samples = samplesOf(voice, sound.getChannelData(0));
    const source = context.createBufferSource();
    source.buffer = context.createBuffer(1, Math.max(samples.length, 1), rateHz);
    source.buffer.copyToChannel(samples, 0);
    source.connect(output);
    source.start(zeroSeconds + voice.start / rateHz);
    return source;
  }

  /**
   * A voice's samples from its start to its end or its sound's, whichever is first. Made here rather
   * than by a source's own rate and gain, so that they are the recording's, sample for sample.
   */
  function samplesOf(voice, sound) {
    const read = voice.rates.length ? bent(voice, sound) : sound;
    const frames = Math.min(voice.end - voice.start, read.length);
    const level = Math.min(frames, voice.ramp - voice.start);
    const fall = voice.end - voice.ramp;
    const samples = new Float32Array(frames);
    for (let i = 0; i < level; i += 1) samples[i] = read[i] * voice.gain;
    for (let i = level; i < frames; i += 1) samples[i] = read[i] * voice.gain * (1 - (i - level) / fall);
    return samples;
  }

  /** The sound as the rates would have it read, along straight lines between samples, up to its own end. */
  function bent(voice, sound) {
    const read = [];
    let [position, rate, next] = [0, 1, 0];
    for (let i = 0; i < voice.end - voice.start && position < sound.length - 1; i += 1) {
      const before = Math.floor(position);
      read.push(sound[before] + (sound[before + 1] - sound[before]) * (position - before));
      for (; next < voice.rates.length && voice.rates[next][0] <= voice.start + i; next += 1) rate = voice.rates[next][1];
      position += rate;
    }
    return read;
  }

  function outputOf(context, gain) {
    const output = context.createGain();
    output.gain.value = gain;
    output.connect(context.destination);
    return output;
  }

  function horizon(context) {
    const hidden = root.document && root.document.hidden;
    return context.currentTime + (hidden ? AHEAD_HIDDEN_SECONDS : AHEAD_SECONDS);
  }

  fifthpeg.mixer = Object.freeze({ play, place, samplesOf });
  if (typeof module === "object") module.exports = fifthpeg.mixer;
})(globalThis);
