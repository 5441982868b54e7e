/* The note bank in the browser. Each sound is a small script beside the site's other media; it hands
 * its FLAC bytes to take(). Scripts, because from a double-clicked folder a browser refuses fetch.
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.bank) return;

  const WORDS = {
    missing: (name) => `One sound is missing (${inWords(name)}).`,
    damaged: (name) => `One sound is damaged (${inWords(name)}).`,
  };
  const handedOver = new Map(); // address of a sound's script -> its bytes as base64
  const sounds = new Map(); // address and rate -> promise of {buffer} or {says}

  /** Called by each sound's script. The script's own address tells two banks on one page apart. */
  function take(name, base64) {
    const script = root.document && root.document.currentScript;
    handedOver.set(script ? script.src : name, base64);
  }

  /**
   * The named sounds of the bank in folder (an address ending in a slash), each fetched once.
   * Never rejects: gives {buffers: Map of name to AudioBuffer, says: a sentence, or "" if all came}.
   */
  async function load(folder, names, rateHz) {
    const answers = await Promise.all(names.map((name) => sound(folder, name, rateHz)));
    const failed = answers.find((answer) => answer.says);
    const buffers = new Map(names.map((name, index) => [name, answers[index].buffer]));
    return { buffers, says: failed ? failed.says : "" };
  }

  async function sound(folder, name, rateHz) {
    const address = new URL(`${folder}${name}.js`, root.document.baseURI).href;
    const key = `${rateHz} ${address}`;
    if (!sounds.has(key)) sounds.set(key, fetchSound(address, name, rateHz));
    const answer = await sounds.get(key);
    if (answer.says) sounds.delete(key); // the next press tries again
    return answer;
  }

  async function fetchSound(address, name, rateHz) {
    const arrived = await addScript(address);
    if (!arrived) return { says: WORDS.missing(name) };
    const base64 = handedOver.get(address);
    handedOver.delete(address);
    try {
      // An offline context decodes at the bank's own rate, and before any press allows sound.
      const decoder = new OfflineAudioContext(1, 1, rateHz);
      return { buffer: await decoder.decodeAudioData(bytesOf(base64).buffer) };
    } catch {
      return { says: WORDS.damaged(name) };
    }
  }

  function addScript(address) {
    return new Promise((resolve) => {
      const script = root.document.createElement("script");
      const settle = (arrived) => () => {
        script.remove();
        resolve(arrived);
      };
      script.onload = settle(true);
      script.onerror = settle(false);
      script.src = address;
      root.document.head.append(script);
    });
  }

  /** The bytes of a base64 text; raises where it is none. */
  function bytesOf(base64) {
    return Uint8Array.from(root.atob(base64), (letter) => letter.charCodeAt(0));
  }

  /**
   * "3-57-2-hammer-on" as a player says it; how far a pull-off goes, or a chime's partial, is left out. The backing's,
   * "guitar-50-57-60-66", by its instrument.
   */
  function inWords(name) {
    if (/^[a-z]/.test(name)) return `the backing's ${name.split("-")[0]}`;
    const [, string, stop, touch] = /^(\d+)-\d+-(\d+)-(.+?)(?:-\d+)?$/.exec(name) || [];
    if (!string) return name;
    const place = stop === "0" ? "open" : `fret ${stop}`;
    return `string ${string}, ${place}${touch === "pick" ? "" : `, ${touch}`}`;
  }

  fifthpeg.bank = Object.freeze({ take, load, bytesOf, inWords });
  if (typeof module === "object") module.exports = fifthpeg.bank;
})(globalThis);
