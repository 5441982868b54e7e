/* The tuner's strings: a button in place of each recording, one sound at a time, round and round without a gap. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.tuner) return;
  const { dom, bank, output, stage } = fifthpeg;

  const RISE_SECONDS = 0.015; // a pluck's loop begins with a longer silence
  const FALL_SECONDS = 0.04;
  const FETCHING = "Fetching the sound …";
  let playing = null;
  let presses = 0;

  /** Gives every string below place its buttons, once however often it is called. */
  function start(place) {
    if (!root.AudioContext) return; // the recordings stay
    for (const list of place.querySelectorAll(".fp-tuner:not([data-fp-ready])")) {
      list.setAttribute("data-fp-ready", "");
      const said = dom.element("p", { class: "fp-said", role: "status" });
      for (const row of list.querySelectorAll("[data-fp-sound]")) attach(row, list.dataset, said);
      list.append(said);
    }
  }

  function attach(row, { fpSounds, fpRate }, said) {
    const sound = { name: row.dataset.fpSound, folder: fpSounds, rateHz: Number(fpRate), say: (words) => said.replaceChildren(words) };
    const audio = row.querySelector("audio");
    const words = row.querySelector("span").textContent;
    sound.button = dom.button(words, () => (playing === sound ? stop() : play(sound)), {
      "aria-label": audio.getAttribute("aria-label"),
      "aria-pressed": "false",
    });
    sound.giveUp = (trouble) => {
      row.replaceChildren(audio);
      sound.say(`${trouble} The recording in its place still plays.`);
    };
    row.replaceChildren(sound.button);
  }

  async function play(sound) {
    stop();
    if (stage) stage.stop();
    const press = (presses += 1);
    playing = sound;
    sound.button.setAttribute("aria-pressed", "true");
    sound.say(FETCHING);
    const [awake, loaded] = await Promise.all([output.wake(sound.rateHz), bank.load(sound.folder, [sound.name], sound.rateHz)]);
    if (press !== presses) return;
    const trouble = awake.says || loaded.says;
    sound.say("");
    if (trouble) {
      stop();
      sound.giveUp(trouble);
    } else sound.stop = begin(awake.context, loaded.buffers.get(sound.name));
  }

  /** The sound goes round from now on; gives what ends it. */
  function begin(context, buffer) {
    const source = context.createBufferSource();
    const gain = context.createGain();
    Object.assign(source, { buffer, loop: true });
    source.connect(gain).connect(context.destination);
    gain.gain.setValueAtTime(0, context.currentTime);
    gain.gain.linearRampToValueAtTime(1, context.currentTime + RISE_SECONDS);
    source.start();
    return () => {
      const now = context.currentTime;
      gain.gain.cancelScheduledValues(now);
      gain.gain.setTargetAtTime(0, now, FALL_SECONDS / 4);
      source.stop(now + FALL_SECONDS);
    };
  }

  function stop() {
    presses += 1;
    if (!playing) return;
    const sound = playing;
    playing = null;
    if (sound.stop) sound.stop();
    sound.stop = null;
    sound.button.setAttribute("aria-pressed", "false");
    sound.say("");
    output.rest();
  }

  function listen(document) {
    document.addEventListener("keydown", (event) => event.key === "Escape" && stop());
    document.addEventListener("play", stop, true); // a recording starts: the tuner makes way
    root.addEventListener("pagehide", stop);
    if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", () => start(document));
    else start(document);
  }

  fifthpeg.tuner = Object.freeze({ start, stop });
  if (root.document) listen(root.document);
  if (typeof module === "object") module.exports = fifthpeg.tuner;
})(globalThis);
