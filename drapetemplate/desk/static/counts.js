// The even counts about the present one, side by side; choosing one sets the count.

import { drawn, make } from "./dom.js";

const ROWS = [
  ["gap", "Gap"],
  ["pitch", "Pitch"],
  ["wall", "To the wall"],
  ["drops", "Drops"],
  ["sheets", "Sheets"],
];

/** Shows counts in `root`; `take(count)` is called for the one that is pressed. */
export class Counts {
  constructor(root, take) {
    Object.assign(this, { root, take });
    this.shown = "";
  }

  /** Show what the server told of the counts. */
  show(counts) {
    const now = JSON.stringify(counts);
    if (now === this.shown) return;
    this.shown = now;
    const focused = this.root.contains(document.activeElement);
    this.root.replaceChildren(
      ...(counts.length
        ? [
            make("h2", { tabindex: "-1" }, "Counts side by side"),
            make("ul", {}, ...counts.map((told) => this.#count(told))),
          ]
        : []),
    );
    if (focused) this.root.querySelector("h2")?.focus();
  }

  #count(told) {
    const { count, chosen, fault, stops, warnings, picture } = told;
    const name = `${count} eyelets`;
    const rows = ROWS.filter(([key]) => told[key] !== "" && told[key] !== undefined);
    return make(
      "li",
      { class: chosen ? "chosen" : null },
      make("h3", {}, name),
      ...(picture ? [drawn(picture)] : []),
      fault ? make("p", {}, fault) : null,
      make(
        "dl",
        {},
        ...rows.map(([key, words]) =>
          make("div", {}, make("dt", {}, words), make("dd", {}, String(told[key]))),
        ),
      ),
      ...stops.map((code) => make("p", { class: "stop" }, make("strong", {}, "Stop: "), code)),
      ...warnings.map((code) => make("p", { class: "warn" }, make("strong", {}, "Warning: "), code)),
      chosen
        ? make("p", { class: "quiet" }, "As planned")
        : fault
          ? null
          : make(
            "button",
            { type: "button", on: { click: () => this.take(count) } },
            `Take ${count}`,
          ),
    );
  }
}
