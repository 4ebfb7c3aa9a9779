// The jobs in the desk's folder: listed when asked for, one of them opened in place of this one.

import { byId, make } from "./dom.js";
import { ask } from "./server.js";

const HELD = "file"; // which job file this tab has open, for when it is loaded again
const MANY = 8; // jobs; of more than these some can be looked for by words

/** Return what this tab had open before it was loaded: a file's name, "" for a new job, or null. */
export const heldFile = () => sessionStorage.getItem(HELD);

/** Hold what this tab has open; null for no file yet. */
export const holdFile = (name) => sessionStorage.setItem(HELD, name ?? "");

/** Forget it, where it can't be opened any more. */
export const forgetFile = () => sessionStorage.removeItem(HELD);

/** List the jobs in a dialog; the name of the file that is chosen, "" for a new job, or null. */
export async function chooseJob({ file, folder }) {
  const { jobs, more } = await ask("/jobs", {});
  const dialog = byId("dialog");
  const before = document.activeElement;
  return new Promise((resolve) => {
    const done = (chosen) => {
      dialog.removeEventListener("cancel", cancelled);
      dialog.close();
      dialog.replaceChildren();
      before?.focus?.();
      resolve(chosen);
    };
    const cancelled = (event) => {
      event.preventDefault();
      done(null);
    };
    const press = (words, chosen, name = "") =>
      make("button", { type: "button", class: name, on: { click: () => done(chosen) } }, words);
    const rows = jobs.map((job) => row(job, job.file === file, done));
    const list = make("ul", { id: "jobs" }, ...rows.map(([element]) => element));
    const none = make("p", { id: "none-found", hidden: true }, "No job here has these words.");
    const find = make("input", {
      id: "find-job",
      type: "text",
      autocomplete: "off",
      spellcheck: "false",
      on: {
        input: () => {
          none.hidden = narrow(rows, find.value) > 0;
        },
      },
    });
    const told = jobs.length
      ? "What isn't saved here is kept as a draft beside its job file."
      : "There is no job file here yet, and no PDF of one.";
    dialog.replaceChildren(
      make("h2", { id: "dialog-title" }, `Jobs in the folder ${folder}`),
      make("p", {}, told),
      ...(jobs.length > MANY ? [make("label", { for: "find-job" }, "With the words"), find] : []),
      list,
      none,
      more ? make("p", {}, `${more} more files were not looked into.`) : "",
      make("p", { class: "presses" }, press("Begin a new job", ""), press("Cancel", null)),
    );
    dialog.addEventListener("cancel", cancelled);
    dialog.showModal();
    (jobs.length > MANY ? find : dialog.querySelector("button:not(:disabled)")).focus();
  });
}

/** A job to press, with the words that it is found by. */
function row({ file, number, name, client, due, found_by: foundBy }, isOpen, done) {
  const title = [number, name || "no name"].filter(Boolean).join(" · ");
  const kind = file.toLowerCase().endsWith(".pdf") ? `${file}: a job file is taken out of it` : file;
  const rest = [client, due && `due ${due}`, kind, isOpen && "open now"];
  const facts = rest.filter(Boolean).join(" · ");
  const element = make(
    "li",
    {},
    make(
      "button",
      { type: "button", disabled: isOpen, on: { click: () => done(file) } },
      make("span", { class: "job-title" }, title),
      make("span", { class: "quiet" }, facts),
    ),
  );
  return [element, plain([title, facts, ...foundBy].join("\n"))];
}

/** Show only the jobs that have all these words; how many do. */
function narrow(rows, text) {
  const words = plain(text).split(/\s+/);
  for (const [element, found] of rows) element.hidden = !words.every((word) => found.includes(word));
  return rows.filter(([element]) => !element.hidden).length;
}

/** Text as it is looked for: no capitals, no accents. */
const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
