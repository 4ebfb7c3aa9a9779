// What was answered, and the way back: every change can be undone and done again.

const KEPT = 300; // steps that can be undone
const ONE_GO = 1500; // ms: typing on in a field within this is one step

/** The answers as typed, by path, and the window that is looked at. */
export class Job {
  constructor() {
    this.answers = {};
    this.window = 1;
    this.past = [];
    this.future = [];
    this.typing = { path: "", at: 0 };
  }

  /** Begin with these answers; nothing to undo. */
  begin(answers, window = 1) {
    Object.assign(this, { answers: { ...answers }, window, past: [], future: [] });
    this.typing = { path: "", at: 0 };
  }

  /** Keep one field's text. Typing on in the same field is one step to undo. */
  type(path, text) {
    const now = Date.now();
    const on = this.typing.path === path && now - this.typing.at < ONE_GO;
    if (!on || !this.past.length) this.#step();
    this.typing = { path, at: now };
    this.answers = filled(this.answers, { [path]: text });
    this.future = [];
  }

  /** Keep several changes as one step: text by path, an empty one for the default. */
  change(changes) {
    this.replace(filled(this.answers, changes), this.window);
  }

  /** Put other answers in place of all, as one step. */
  replace(answers, window) {
    this.#step();
    this.typing = { path: "", at: 0 };
    this.answers = { ...answers };
    this.window = window;
    this.future = [];
  }

  /** Look at another window: no step, nothing of the job changes. */
  choose(window) {
    this.window = window;
    this.typing = { path: "", at: 0 };
  }

  get canUndo() {
    return this.past.length > 0;
  }

  get canRedo() {
    return this.future.length > 0;
  }

  /** Go a step back; the path of a change, to be shown. */
  undo() {
    return this.#go(this.past, this.future);
  }

  /** Go a step on again; likewise. */
  redo() {
    return this.#go(this.future, this.past);
  }

  #go(from, to) {
    const step = from.pop();
    if (!step) return "";
    to.push({ answers: this.answers, window: this.window });
    const path = changed(this.answers, step.answers)[0] ?? "";
    Object.assign(this, step);
    this.typing = { path: "", at: 0 };
    return path;
  }

  #step() {
    this.past.push({ answers: this.answers, window: this.window });
    if (this.past.length > KEPT) this.past.shift();
  }
}

/** Return answers with changes put in; an empty text is no answer. */
function filled(answers, changes) {
  const all = { ...answers, ...changes };
  for (const [path, text] of Object.entries(changes)) if (text === "") delete all[path];
  return all;
}

/** Return the paths at which two sets of answers differ. */
export function changed(before, after) {
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (path) => (before[path] ?? "") !== (after[path] ?? ""),
  );
}
