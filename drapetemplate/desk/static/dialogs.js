// What must be asked in between: a name for the file, what to do where two pages disagree.

import { byId, make } from "./dom.js";

/** Ask in a dialog and wait; null where it was closed without a choice.
 *
 * `choices` are buttons, each [value, words]. `field`, where given, is a line to type in: its
 * `label`, `text`, and `check(text)`, which says what is wrong with it, asynchronously, or "". The
 * answer is {value, text}. */
export function choose({ title, words = [], choices, field = null }) {
  const dialog = byId("dialog");
  const before = document.activeElement;
  return new Promise((resolve) => {
    const fault = make("p", { id: "dialog-fault", class: "fault", role: "alert" });
    const input =
      field &&
      make("input", {
        id: "dialog-field",
        type: "text",
        autocomplete: "off",
        spellcheck: "false",
        "aria-describedby": "dialog-fault",
      });
    if (input) input.value = field.text;
    const answer = async (value) => {
      if (input && field.check) {
        const wrong = await field.check(input.value, value);
        fault.textContent = wrong;
        if (wrong) {
          input.setAttribute("aria-invalid", "true");
          input.focus();
          return;
        }
      }
      done({ value, text: input?.value ?? "" });
    };
    const done = (result) => {
      dialog.removeEventListener("cancel", cancelled);
      dialog.close();
      dialog.replaceChildren();
      before?.focus?.();
      resolve(result);
    };
    const cancelled = (event) => {
      event.preventDefault();
      done(null);
    };
    const buttons = choices.map(([value, text], at) =>
      make(
        "button",
        at || !input
          ? { type: "button", on: { click: () => answer(value) } }
          : { type: "submit", class: "first" },
        text,
      ),
    );
    const form = make(
      "form",
      {
        novalidate: true,
        on: {
          submit: (event) => {
            event.preventDefault();
            answer(choices[0][0]);
          },
        },
      },
      make("h2", { id: "dialog-title" }, title),
      ...words.map((text) => make("p", {}, text)),
      input && make("label", { for: "dialog-field" }, field.label),
      input,
      input && fault,
      make(
        "p",
        { class: "presses" },
        ...buttons,
        make("button", { type: "button", on: { click: () => done(null) } }, "Cancel"),
      ),
    );
    dialog.replaceChildren(form);
    dialog.addEventListener("cancel", cancelled);
    dialog.showModal();
    if (input) {
      input.focus();
      input.select();
    }
  });
}
