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

  /** Show what the server told of the counts of a panel `hung` on "pole" or "hooks", and once what
   * stands against all of them, `common`. */
  show({ counts, common }, hung) {
    const now = JSON.stringify([counts, common, hung]);
    if (now === this.shown) return;
    this.shown = now;
    const focused = this.root.contains(document.activeElement);
    this.root.replaceChildren(...(counts.length ? this.#table(counts, common, hung) : []));
    if (focused) this.root.querySelector("h2")?.focus();
  }

  #table(counts, common, hung) {
    const ofAll = [
      ...common.stops.map(({ short }) => against("stop", "Stop at any count", short)),
      ...common.warnings.map(({ short }) => against("warn", "Warning at any count", short)),
    ];
    const columns = COLUMNS.filter(([key]) => counts.some((told) => told[key]));
    const head = ["Eyelets", PICTURED[hung], ...columns.map(([, words]) => words), "Choose"];
    return [
      make("h2", { id: "counts-title", tabindex: "-1" }, "Counts side by side"),
      ...ofAll,
      make(
        "table",
        { "aria-labelledby": "counts-title" },
        make("thead", {}, make("tr", {}, ...head.map((words) => make("th", { scope: "col" }, words)))),
        make("tbody", {}, ...counts.map((told) => this.#row(told, columns, common))),
      ),
    ];
  }

  #row(told, columns, common) {
    const { count, chosen, fault, stops, warnings, picture } = told;
    const without = (all, those) => all.filter(({ short }) => !those.some((each) => each.short === short));
    const said = [
      ...(fault ? [make("p", { class: "said" }, fault)] : []),
      ...without(stops, common.stops).map(({ short }) => against("stop", "Stop", short)),
      ...without(warnings, common.warnings).map(({ short }) => against("warn", "Warning", short)),
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
