// The questions as fields. The fields stay where they are while one types: each is kept by its path
// and only what changed in it is changed, so that focus and caret never jump.

import { arrange, make, say, set } from "./dom.js";

const MOST_BUTTONS = 4; // choices: as many are seen at once, more are a list
const LONG_DEFAULT = 20; // letters: what is longer stands under the field, not cut off in it
const IN_WORDS = new Set(["word", "choice", "units", "yes or no", "side"]); // only a choice will do
const NOTHING = /^(none|not |no )/; // defaults that take nothing: nothing is assumed
const REPEATED = / \([^()]*\)\?$/; // the choices again, behind a question

/** Keeps the form in `root` as the answers go. `typed(path, text, over)` is called at every change,
 * `over` where nothing more comes of it, as of a choice; `entered()` when a line is ended by Enter. */
export class Form {
  constructor(root, { typed, entered }) {
    this.root = root;
    this.typed = typed;
    this.groups = new Map();
    this.fields = new Map();
    this.resting = true;
    root.addEventListener("submit", (event) => event.preventDefault());
    root.addEventListener("focusout", () => this.rest());
    root.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && event.target.matches("input[type=text]")) entered();
    });
  }

  /** Show the server's groups of fields with these answers in them. */
  show(groups, answers) {
    const kept = new Set();
    const sections = groups.map((group) => {
      const section = this.#group(group.title);
      const fields = group.fields.map((told) => {
        const field = this.#field(told);
        kept.add(told.path);
        field.show(told, answers[told.path] ?? "", this.resting);
        return field.element;
      });
      arrange(section.fields, fields);
      return section.element;
    });
    for (const path of [...this.fields.keys()]) if (!kept.has(path)) this.fields.delete(path);
    arrange(this.root, sections);
  }

  /** Put answers into the fields that are there, as after an undo. */
  fill(answers) {
    for (const [path, field] of this.fields) field.put(answers[path] ?? "");
  }

  /** Typing goes on: a fault that wasn't said yet waits. */
  go() {
    this.resting = false;
  }

  /** Typing rests: say what is wrong with the field one is in, too. */
  rest() {
    this.resting = true;
    for (const field of this.fields.values()) field.sayFault(true);
  }

  /** Bring the field at this path into view and into focus; whether there is one. */
  visit(path) {
    const field = this.fields.get(path);
    if (!field) return false;
    field.focus();
    return true;
  }

  /** Return what the field at this path asks, or the path where it isn't shown. */
  label(path) {
    return this.fields.get(path)?.told.label ?? path;
  }

  /** Return the fields that say a fault now. */
  faulty() {
    return [...this.fields.values()].filter((field) => field.told.fault && !field.missing);
  }

  /** Return the fields that must still be answered. */
  missing() {
    return [...this.fields.values()].filter((field) => field.missing);
  }

  #group(title) {
    if (!this.groups.has(title)) {
      const fields = make("div", { class: "fields" });
      const legend = make("legend", {}, make("h3", {}, title));
      this.groups.set(title, { fields, element: make("fieldset", {}, legend, fields) });
    }
    return this.groups.get(title);
  }

  #field(told) {
    const shape = shapeOf(told);
    const there = this.fields.get(told.path);
    if (there && there.shape === shape) return there;
    const field = new Field(told, shape, this.typed);
    this.fields.set(told.path, field);
    return field;
  }
}

/** Return what a field is made of: buttons, a list or a line, with its choices. A line's are only
 * suggested. */
function shapeOf({ kind: answer, choices }) {
  if (!choices.length) return "line";
  if (!IN_WORDS.has(answer)) return ["line", ...choices].join("\n");
  const kind = choices.length <= MOST_BUTTONS ? "buttons" : "list";
  return [kind, ...choices].join("\n");
}

/** Return an id for a part of the field at `path`. */
const idOf = (path, part) => `${part}:${path.replace(/\s/g, "_")}`;

class Field {
  constructor(told, shape, typed) {
    this.path = told.path;
    this.shape = shape;
    this.told = told;
    this.typed = typed;
    this.label = make(shape.startsWith("buttons") ? "span" : "label", {
      id: idOf(this.path, "label"),
      class: "label",
    });
    this.note = make("p", { id: idOf(this.path, "note"), class: "note" });
    this.help = make("p", { id: idOf(this.path, "help"), class: "help", hidden: true });
    this.why = make(
      "button",
      {
        type: "button",
        class: "why",
        // Tab goes from field to field; in each, "?" is typed.
        tabindex: "-1",
        "aria-expanded": "false",
        "aria-controls": this.help.id,
        on: { click: () => this.explain() },
      },
      "?",
    );
    this.back = make("span", { id: idOf(this.path, "back"), class: "back" });
    this.fault = make("p", { id: idOf(this.path, "fault"), class: "fault", hidden: true });
    this.control = this.#control();
    this.answer = make(
      "div",
      { class: "answer", on: { focusin: () => this.#keepHeight() } },
      this.control,
      this.suggested,
      this.back,
      this.fault,
    );
    this.element = make(
      "div",
      {
        class: "field",
        "data-path": this.path,
        on: { keydown: (event) => this.#asked(event) },
      },
      make("div", { class: "asked" }, this.label, this.why),
      this.help,
      this.note,
      this.answer,
    );
  }

  /** Whether it needs an answer and has none: no fault of what was typed. */
  get missing() {
    return this.told.needed && !this.text;
  }

  /** What stands in the field. */
  get text() {
    if (this.buttons) return this.buttons.find((button) => button.checked)?.value ?? "";
    return this.control.value;
  }

  show(told, text, resting) {
    this.told = told;
    say(this.label, this.buttons ? told.label.replace(REPEATED, "?") : told.label);
    say(this.note, told.note ?? "");
    this.note.hidden = !told.note;
    say(this.help, told.explanation);
    set(this.why, "aria-label", `Explain: ${this.label.textContent}`);
    this.put(text);
    this.#assumed(told);
    this.sayFault(resting);
  }

  /** Put a text in, where another stands there. */
  put(text) {
    if (this.buttons) {
      const chosen = text || this.told.default || "";
      for (const button of this.buttons) {
        const checked = button.value === chosen.toLowerCase();
        if (button.checked !== checked) button.checked = checked;
      }
    } else if (this.control.value !== text) {
      this.control.value = text;
    }
  }

  focus() {
    const control = this.buttons
      ? (this.buttons.find((button) => button.checked) ?? this.buttons[0])
      : this.control;
    control.focus({ preventScroll: true });
    this.element.scrollIntoView({ block: "nearest" });
    if (!this.buttons && control.select) control.select();
  }

  /** Keep the room of what stands under an empty field: the fields below stay where they are. */
  #keepHeight() {
    if (this.told.kind === "text") return; // a name read back is as long as it likes
    this.answer.style.minHeight = `${this.answer.offsetHeight}px`;
  }

  explain() {
    this.help.hidden = !this.help.hidden;
    set(this.why, "aria-expanded", this.help.hidden ? "false" : "true");
    this.element.scrollIntoView({ block: "nearest" });
  }

  #asked(event) {
    if (event.key !== "?" || (!this.buttons && this.text)) return;
    event.preventDefault();
    this.explain();
  }

  /** Say what is wrong: in the field one types in only when typing rests, or where it was said
   * before, so that half a measure isn't called a fault. */
  sayFault(resting) {
    const here = this.element.contains(document.activeElement);
    const fault = this.missing ? "" : this.told.fault;
    if (fault && here && !resting && this.fault.hidden) return;
    say(this.fault, fault ? `Not right: ${fault}` : "");
    this.fault.hidden = !fault;
    for (const control of this.buttons ?? [this.control]) {
      if (!this.buttons) set(control, "aria-invalid", fault ? "true" : null);
      set(control, "aria-describedby", fault ? `${this.fault.id} ${this.back.id}` : this.back.id);
    }
    if (this.buttons) set(this.control, "aria-invalid", fault ? "true" : null);
  }

  /** Say beside the field how its answer was understood, or what is taken without one. */
  #assumed(told) {
    const assumed = told.default ?? "";
    const long = assumed.length > LONG_DEFAULT;
    const taken = assumed && told.kind !== "text" && !NOTHING.test(assumed) ? "assumed" : "";
    const empty = this.buttons ? !told.value : !this.text;
    let back = told.read_back;
    if (empty && told.needed) back = "needed";
    else if (empty) back = long && !this.buttons ? `If empty: ${assumed}` : taken;
    say(this.back, back);
    this.back.classList.toggle("needed", back === "needed");
    this.element.classList.toggle("in-words", told.kind === "text");
    this.element.classList.toggle("in-full", told.choice_words.length > 0);
    if (this.buttons) {
      set(this.control, "aria-required", told.needed ? "true" : null);
    } else {
      const shown = assumed && !long ? assumed : null;
      if (this.control.localName === "input") set(this.control, "placeholder", shown);
      else say(this.control.options[0], shown ?? "");
      set(this.control, "required", Boolean(told.needed));
    }
  }

  #control() {
    const [kind, ...choices] = this.shape.split("\n");
    const id = idOf(this.path, "field");
    const listed = () => choices.map((choice) => make("option", { value: choice }, choice));
    if (kind === "buttons") {
      this.buttons = choices.map((choice) =>
        make("input", {
          type: "radio",
          name: this.path,
          value: choice,
          on: { change: () => this.typed(this.path, choice, true) },
        }),
      );
      return make(
        "div",
        { id, class: "choices", role: "radiogroup", "aria-labelledby": this.label.id },
        ...this.buttons.map((button, at) =>
          make("label", {}, button, this.told.choice_words[at] ?? choices[at]),
        ),
      );
    }
    this.label.htmlFor = id;
    if (kind === "list") {
      return make(
        "select",
        { id, on: { change: () => this.typed(this.path, this.control.value, true) } },
        make("option", { value: "" }),
        ...listed(),
      );
    }
    if (choices.length) this.suggested = make("datalist", { id: `${id}-list` }, ...listed());
    return make("input", {
      id,
      list: choices.length ? `${id}-list` : null,
      type: "text",
      dir: "auto", // names are of any script
      name: this.path,
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      on: { input: () => this.typed(this.path, this.control.value, false) },
    });
  }
}

/** Return a list of links that lead to fields. */
export function linksTo(form, fields) {
  return make(
    "ul",
    {},
    ...fields.map((field) =>
      make(
        "li",
        {},
        make(
          "button",
          { type: "button", class: "link", on: { click: () => form.visit(field.path) } },
          field.told.label,
        ),
      ),
    ),
  );
}
