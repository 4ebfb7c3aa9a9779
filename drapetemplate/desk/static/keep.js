// Keeps what was typed: as a draft at every rest, as a job file and as a PDF when asked.

import { choose } from "./dialogs.js";
import { ask, fetchFile, PAGE, Refused } from "./server.js";

/** Save the answers as a job file; what came of it: {file, revision}, {reload: true} or null. */
export async function saveJob({ answers, file, revision }) {
  const save = (name) => ask("/save", { answers, name, revision });
  if (!file) return await saveUnder(save, nameFor(answers), "What is the job file to be called?");
  try {
    return await save(null);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (error.answer.other_name) {
      return await saveUnder(save, nameFor(answers), "Under which other name?", [
        `${file} can't be changed key by key: it stays as it is, and a new file has the answers.`,
      ]);
    }
    if (error.status !== 409) throw error;
    const chosen = await choose({
      title: `${file} has changed on disk`,
      words: [
        "Another program, or another page, wrote to it after this page read it.",
        "Nothing has been written yet.",
      ],
      choices: [
        ["other", "Save under another name"],
        ["reload", "Take what is on disk, and lose what this page changed"],
      ],
    });
    if (chosen?.value === "reload") return { reload: true };
    if (chosen?.value === "other") {
      return await saveUnder(save, nameFor(answers), "Under which other name?");
    }
    return null;
  }
}

async function saveUnder(save, text, title, why = []) {
  let saved = null;
  const chosen = await choose({
    title,
    words: [...why, "It is written into the folder in which the desk was started."],
    choices: [["save", "Save"]],
    field: {
      label: "Name of the file",
      text,
      check: async (name) => {
        try {
          saved = await save(name.trim());
          return "";
        } catch (error) {
          if (error instanceof Refused) return error.message;
          throw error;
        }
      },
    },
  });
  return chosen && saved;
}

/** Return a name for a job file, made from the job's own. */
function nameFor(answers) {
  const words = (answers["job.name"] ?? "")
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^_+|_+$/g, "")
    .slice(0, 60);
  return `${words || "job"}.toml`;
}

/** Fetch a job's PDF, of a roll's two the template (part 0) or the ticket (1), or from "/approval"
 * the client's page, and hand it to the browser to keep; its name, and how many there are. */
export async function savePdf(body, from = "/pdf") {
  const { name, bytes, answer } = await fetchFile(from, body);
  const address = URL.createObjectURL(bytes);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  return { name, parts: Number(answer.headers.get("X-Desk-Parts") ?? 1) };
}

/** Return what a draft is kept with. */
export const draftOf = (answers, accepted) => ({ answers, accept: [...accepted], page: PAGE });

const heldAt = ({ folder, file }) => `unkept ${folder}/${file ?? ""}`;

/** Hold answers that the program hasn't kept in this tab, should it be loaded again; null for none.
 *
 * Another run of the program has another address, to which nothing of this one's can go. */
export function holdUnkept(file, answers) {
  if (!answers) sessionStorage.removeItem(heldAt(file));
  else sessionStorage.setItem(heldAt(file), JSON.stringify([file.revision, answers]));
}

/** Take back the answers that were held for this file: [revision it was read at, answers] or null. */
export function takeUnkept(file) {
  const held = JSON.parse(sessionStorage.getItem(heldAt(file)) ?? "null");
  holdUnkept(file, null);
  return held;
}
