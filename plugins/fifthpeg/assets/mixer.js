/* From voices to sound: the samples of one voice, and its source on a context, live or offline. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.mixer) return;

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
    const { gain, shade = 0, shadeFrames = 0 } = voice;
    for (let i = 0; i < frames; i += 1) {
      const shaded = (1 - shade) * read[i] + (i < shadeFrames ? 0 : shade * read[i - shadeFrames]);
      samples[i] = gain * shaded * (i < level ? 1 : 1 - (i - level) / fall);
    }
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

  fifthpeg.mixer = Object.freeze({ place, samplesOf });
  if (typeof module === "object") module.exports = fifthpeg.mixer;
})(globalThis);
