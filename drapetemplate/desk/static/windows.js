// The job's windows: a list to choose from; one more, a copy, or one less.

import { make } from "./dom.js";

/** Shows the windows in `root`. `choose(number)` and `act(action)`, "add", "copy" or "remove" of the
 * chosen one, are called as they are pressed. */
export class Windows {
  constructor(root, { choose, act }) {
    Object.assign(this, { root, choose, act });
    this.shown = "";
  }

  /** Show windows, each with what is known against it from the whole job, and which is chosen. */
  show(windows, chosen, known) {
    const now = JSON.stringify([windows, chosen, known]);
    if (now === this.shown) return;
    this.shown = now;
    const rolled = this.root.querySelector("ul")?.scrollTop ?? 0;
    const focused = this.root.contains(document.activeElement)
      ? document.activeElement.dataset.key
      : undefined;
    const name = windows.find((window) => window.number === chosen)?.name ?? "";
    this.root.replaceChildren(
      make("h3", { id: "windows-title" }, "Windows"),
      windows.length > 1
        ? make(
            "ul",
            { "aria-labelledby": "windows-title" },
            ...windows.map((window) => this.#window(window, chosen, known[window.number])),
          )
        : make("p", { class: "quiet" }, "One so far."),
      make(
        "p",
        { class: "acts" },
        this.#press("add", "Add a window"),
        this.#press("copy", "Copy this one", name),
        windows.length > 1 ? this.#press("remove", "Remove this one", name) : null,
      ),
    );
    this.#rollTo(rolled);
    if (focused !== undefined) {
      const same = [...this.root.querySelectorAll("button")].find(
        (button) => button.dataset.key === focused,
      );
      (same ?? this.root.querySelector("[aria-current]"))?.focus();
    }
  }

  /** Roll a long list to where it was, and from there so far that the chosen window is in view. */
  #rollTo(rolled) {
    const list = this.root.querySelector("ul");
    if (!list) return;
    list.scrollTop = rolled;
    const box = list.getBoundingClientRect();
    const chosen = list.querySelector("[aria-current]").getBoundingClientRect();
    list.scrollTop += Math.max(0, chosen.bottom - box.bottom) + Math.min(0, chosen.top - box.top);
  }

  #window({ number, name }, chosen, known) {
    const against = [];
    if (known?.stops) against.push(known.stops === 1 ? "1 stop" : `${known.stops} stops`);
    if (known?.warnings) {
      against.push(known.warnings === 1 ? "1 warning" : `${known.warnings} warnings`);
    }
    return make(
      "li",
      {},
      make(
        "button",
        {
          type: "button",
          "data-key": `window ${number}`,
          "aria-current": number === chosen ? "true" : null,
          on: { click: () => this.choose(number) },
        },
        make("span", { class: "name", dir: "auto" }, name),
        against.length ? make("span", { class: "against" }, ` (${against.join(", ")})`) : null,
      ),
    );
  }

  #press(action, words, name = "") {
    return make(
      "button",
      {
        type: "button",
        class: "small",
        "data-key": action,
        "aria-label": name ? `${words}: ${name}` : null,
        on: { click: () => this.act(action) },
      },
      words,
    );
  }
}
