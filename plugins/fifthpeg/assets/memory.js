/* What this browser keeps for a student: settings, and for each lick its loop, tempo and best. Nothing leaves it. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.memory) return;

  const TRIAL = "trial";
  const TRIAL_VALUE = { trial: "as long as what is kept of a lick".repeat(8) };

  /**
   * The keys of one site begin with its id, since folders opened from a disk share one store. store: "sessionStorage"
   * for what is to be forgotten with the window.
   */
  function memory(site, store = "localStorage") {
    return {
      /** The object kept under a name; {} where there is none, or none that can be read. */
      read(name) {
        try {
          const value = JSON.parse(root[store].getItem(`${site}/${name}`));
          return value && typeof value === "object" && !Array.isArray(value) ? value : {};
        } catch {
          return {};
        }
      },
      /** What is kept for this site under a beginning: names as read takes them, in order. */
      names(beginning) {
        try {
          const own = `${site}/`;
          const names = Object.keys(root[store]).filter((key) => key.startsWith(own + beginning));
          return names.map((key) => key.slice(own.length)).sort();
        } catch {
          return [];
        }
      },
      /** Whether it is gone. */
      drop(name) {
        try {
          root[store].removeItem(`${site}/${name}`);
          return true;
        } catch {
          return false;
        }
      },
      /** What keeps this browser from keeping anything more: "refused", "full" or "". */
      trouble() {
        try {
          root[store].getItem(site);
        } catch {
          return "refused";
        }
        if (!this.write(TRIAL, TRIAL_VALUE)) return "full";
        this.drop(TRIAL);
        return "";
      },
      /** Whether it could be kept: a browser may refuse, or have no room. */
      write(name, value) {
        try {
          root[store].setItem(`${site}/${name}`, JSON.stringify(value));
          return true;
        } catch {
          return false;
        }
      },
    };
  }

  /** A kept value that may have been altered by anyone: a whole number between two bounds, else the other one. */
  function whole(value, least, most, otherwise) {
    return Number.isInteger(value) && value >= least && value <= most ? value : otherwise;
  }

  fifthpeg.memory = Object.assign(memory, { whole });
  if (typeof module === "object") module.exports = fifthpeg.memory;
})(globalThis);
