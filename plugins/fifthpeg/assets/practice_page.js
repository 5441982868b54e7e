/* The practice page: what this browser keeps of practice as a table, to be saved, taken in from a file, or forgotten. */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.practicePage) return;
  const { memory, progress, practised, practiceFile } = fifthpeg;
  const { element, button } = fifthpeg.dom;

  const FILE_NAME = "practice.json";
  const MOST_BYTES = 16000000; // nothing larger is even read
  const COLUMNS = ["Lick", "Last practised", "Passes", "Best tempo"];
  const TROUBLES = {
    refused: "This browser lets these pages keep nothing, so practice is forgotten as soon as you leave a page. "
      + "Its settings for site data, or a private window, may be the reason.",
    full: "This browser has no room left for these pages, so new practice can't be kept. Save a file of what is here first, "
      + "then free some room in the browser's settings.",
    "": "",
  };
  const NOTHING = "Nothing has been practised here yet. Play any lick through to its end, or loop a part of it, "
    + "and it will stand here.";
  const JOINED = "Of each, the faster best tempo, the larger count of passes and the later day are kept.";
  const BY_FOLDER = "These pages were opened from a folder. Practice belongs to the place where that folder lies: "
    + "before you move it, save a file, and take the file in at the new place.";

  /** Fills every room of the page once, however often it is called. */
  function start(place) {
    for (const room of place.querySelectorAll(".fp-practised:not([data-fp-ready])")) {
      room.setAttribute("data-fp-ready", "");
      attach(room);
    }
  }

  function attach(room) {
    const store = memory(new URL(room.dataset.fpRoot, root.document.baseURI).pathname);
    const course = courseOf(room);
    const said = element("p", { class: "fp-said", role: "status" });
    const trouble = element("p", { class: "fp-practice-trouble" });
    const list = element("div", {});
    const show = () => {
      trouble.textContent = TROUBLES[store.trouble()];
      list.replaceChildren(...listOf(practised(store, course), room.dataset.fpLick));
    };
    const say = (sentence) => {
      show();
      said.textContent = sentence;
    };
    const folder = root.location.protocol === "file:" ? [element("p", {}, BY_FOLDER)] : [];
    const choices = element("div", { class: "fp-choices" }, saveButton(store, course, say), forgetButton(store, say));
    room.replaceChildren(trouble, list, choices, fileChoice(store, say), said, ...folder);
    show();
    root.addEventListener("storage", show);
    root.addEventListener("pageshow", show);
  }

  /** id -> {title, full} */
  function courseOf(room) {
    try {
      const licks = JSON.parse(room.querySelector("script").textContent);
      return new Map(licks.map(([id, title, full]) => [id, { title, full }]));
    } catch {
      return new Map();
    }
  }

  function listOf(records, address) {
    if (!records.length) return [element("p", {}, NOTHING)];
    const heads = COLUMNS.map((column) => element("th", { scope: "col" }, column));
    const rows = records.map((record) => rowOf(record, address));
    return [element("p", {}, summary(records)), element("table", { class: "fp-licks" },
      element("thead", {}, element("tr", {}, ...heads)), element("tbody", {}, ...rows))];
  }

  function rowOf(record, address) {
    const name = record.known ? element("a", { href: address.replace("*", record.id) }, record.title) : record.title;
    const cell = (column, ...words) => element("td", { "data-column": column }, ...words);
    return element("tr", {}, element("th", { scope: "row" }, name, record.known ? "" : " (not in this course)"),
      cell(COLUMNS[1], record.day ? dayInWords(record.day) : "not noted"), cell(COLUMNS[2], String(record.played)),
      cell(COLUMNS[3], ...bestOf(record)));
  }

  /** "150 of 208 beats a minute, 72 %", with a bar of that length. */
  function bestOf(record) {
    if (!record.best) return ["not played through yet"];
    if (!record.full) return [`${record.best} beats a minute`];
    const share = practised.share(record);
    const bar = element("span", { class: "fp-reached", "aria-hidden": "true" }, element("span", {}));
    bar.firstChild.style.width = `${Math.min(share, 100)}%`;
    return [`${record.best} of ${record.full} beats a minute, ${share} %`, bar];
  }

  function summary(records) {
    const there = records.filter((record) => record.full && record.best >= record.full).length;
    return `${counted(records.length, "lick")} practised, ${there} of them up to full tempo.`;
  }

  function saveButton(store, course, say) {
    return button("Save as a file", () => {
      const records = practised(store, course);
      if (!records.length) return say("There is nothing to save yet.");
      const address = URL.createObjectURL(new Blob([practiceFile.written(records)], { type: "application/json" }));
      element("a", { href: address, download: FILE_NAME }).click();
      root.setTimeout(() => URL.revokeObjectURL(address), 10000);
      return say(`Saved as ${FILE_NAME}: ${counted(records.length, "lick")}.`);
    });
  }

  function fileChoice(store, say) {
    const input = element("input", { type: "file", accept: ".json,application/json" });
    input.addEventListener("change", async () => {
      const [file] = input.files;
      if (file) say(takenIn(store, await textOf(file)));
      input.value = "";
    });
    return element("p", {}, element("label", { class: "fp-file" }, "Take in a file saved before: ", input));
  }

  /** Nothing for a file that is too large or can't be read: no practice either. */
  async function textOf(file) {
    try {
      return file.size > MOST_BYTES ? "" : await file.text();
    } catch {
      return "";
    }
  }

  /** What is said after a file's text. */
  function takenIn(store, text) {
    const { records, says } = practiceFile.read(text, progress.dayOf(new Date()));
    if (says) return says;
    const count = practised.takeIn(store, records);
    if (count < records.length) {
      return `There was room for ${count} of the file's ${counted(records.length, "lick")}. What was kept before is still there.`;
    }
    return `Taken in: ${counted(count, "lick")}. ${JOINED}`;
  }

  /** Asks before it forgets. */
  function forgetButton(store, say) {
    const ask = element("dialog", { class: "fp-ask", "aria-label": "Forget all practice?" },
      element("p", {}, "Forget all practice kept in this browser for this course: every day, count and best tempo, and the tempos and "
        + "loops you chose? It can't be undone. A file you saved stays as it is."),
      element("div", { class: "fp-choices" }, button("Keep it", () => ask.close(), { autofocus: true }),
        button("Forget it all", () => {
          ask.close();
          say(practised.forget(store) ? "All practice is forgotten." : "This browser would not let go of what it keeps.");
        })));
    const open = button("Forget all practice …", () => ask.showModal());
    return element("span", {}, open, ask);
  }

  function dayInWords(day) {
    const parts = { day: "numeric", month: "long", year: "numeric", timeZone: "UTC" };
    return new Date(`${day}T00:00:00Z`).toLocaleDateString("en-GB", parts);
  }

  function counted(count, noun) {
    return count === 1 ? `1 ${noun}` : `${count} ${noun}s`;
  }

  fifthpeg.practicePage = Object.freeze({ start });
  if (root.document) start(root.document);
})(globalThis);
