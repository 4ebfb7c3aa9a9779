// The even counts about the present one, side by side; choosing one sets the count.

import { drawn, make } from "./dom.js";

const COLUMNS = [
  ["gap", "Gap"],
  ["pitch", "Pitch"],
  ["wall", "Free to the wall"],
  ["drops", "Drops"],
  ["sheets", "Sheets"],
];

const PICTURED = { pole: "Closed, from above", hooks: "Heading, flat" };

/** Shows counts in `root`; `take(count)` is called for the one that is pressed. */
export class Counts {
  constructor(root, take) {
    Object.assign(this, { root, take });
    this.shown = "";
  }

  /** Show what the server told of the counts of a panel `hung` on "pole" or "hooks". */
  show(counts, hung) {
    const now = JSON.stringify([counts, hung]);
    if (now === this.shown) return;
    this.shown = now;
    const focused = this.root.contains(document.activeElement);
    this.root.replaceChildren(...(counts.length ? this.#table(counts, hung) : []));
    if (focused) this.root.querySelector("h2")?.focus();
  }

  #table(counts, hung) {
    const columns = COLUMNS.filter(([key]) => counts.some((told) => told[key]));
    const head = ["Eyelets", PICTURED[hung], ...columns.map(([, words]) => words), "Choose"];
    return [
      make("h2", { id: "counts-title", tabindex: "-1" }, "Counts side by side"),
      make(
        "table",
        { "aria-labelledby": "counts-title" },
        make("thead", {}, make("tr", {}, ...head.map((words) => make("th", { scope: "col" }, words)))),
        make("tbody", {}, ...counts.map((told) => this.#row(told, columns))),
      ),
    ];
  }

  #row(told, columns) {
    const { count, chosen, fault, stops, warnings, picture } = told;
    const said = [
      ...(fault ? [make("p", { class: "said" }, fault)] : []),
      ...stops.map(({ short }) => against("stop", "Stop", short)),
      ...warnings.map(({ short }) => against("warn", "Warning", short)),
    ];
    const press = () =>
      make("button", { type: "button", on: { click: () => this.take(count) } }, `Take ${count}`);
    return make(
      "tr",
      { class: chosen ? "chosen" : null, "data-count": count },
      make("th", { scope: "row" }, String(count)),
      make("td", { class: "small" }, ...(picture ? [drawn(picture)] : []), ...said),
      ...columns.map(([key, words]) => make("td", { "data-name": words }, told[key])),
      make("td", {}, chosen ? "as planned" : fault ? "" : press()),
    );
  }
}

const against = (level, words, short) =>
  make("p", { class: `said ${level}` }, make("strong", {}, `${words}: `), short);
