// What the plan found: worst first, each with what would mend it, and stops to take on by name.

import { make } from "./dom.js";

/** Shows findings in `root`. `take(changes, words)` is called for a remedy, `accept(code, on)` when
 * a stop is taken on or given back. */
export class Findings {
  constructor(root, { take, accept }) {
    Object.assign(this, { root, take, accept });
    this.shown = "";
    this.clear();
  }

  /** Show these findings; `accepted` are the codes of the stops that were taken on. */
  show(findings, accepted) {
    const now = JSON.stringify([findings, [...accepted]]);
    if (now === this.shown) return; // nothing changed: focus stays on what one is about to press
    this.shown = now;
    const had = this.root.contains(document.activeElement);
    const focused = had ? document.activeElement.dataset.key : "";
    const notes = findings.filter((finding) => finding.level === "note");
    const grave = findings.filter((finding) => finding.level !== "note");
    const open = this.root.querySelector("details")?.open || !grave.length;
    this.root.replaceChildren(
      make(
        "h3",
        { tabindex: "-1", class: findings.length > 1 ? null : "for-ears" },
        "Findings",
        make("span", {}, howMany(findings)),
      ),
      ...(findings.length ? [] : [make("p", { class: "quiet" }, "Nothing speaks against it.")]),
      ...(grave.length ? [this.#list(grave, accepted)] : []),
      ...(notes.length ? [this.#notes(notes, accepted, open)] : []),
    );
    if (had) this.#focusAgain(focused);
  }

  /** Take all findings away: there is no plan. */
  clear() {
    this.shown = "";
    this.root.replaceChildren();
  }

  #notes(notes, accepted, open) {
    return make("details", { open }, make("summary", {}, howMany(notes).slice(2)), this.#list(notes, accepted));
  }

  #list(findings, accepted) {
    return make("ul", {}, ...findings.map((finding) => this.#finding(finding, accepted)));
  }

  #finding({ level, code, text, title, remedies }, accepted) {
    const parts = [make("p", {}, make("strong", {}, `${title}: `), text)];
    const presses = remedies.map(({ words, changes }) =>
      make(
        "button",
        {
          type: "button",
          "data-key": `${code} ${words}`,
          on: { click: () => this.take(changes, words) },
        },
        `Change to: ${words}`,
      ),
    );
    if (presses.length) parts.push(make("p", { class: "remedies" }, ...presses));
    if (level === "stop") parts.push(this.#takenOn(code, accepted.has(code)));
    return make("li", { class: level, "data-code": code }, ...parts);
  }

  #takenOn(code, on) {
    const box = make("input", {
      type: "checkbox",
      "data-key": `accept ${code}`,
      on: { change: (event) => this.accept(code, event.target.checked) },
    });
    box.checked = on;
    const words = on
      ? " is taken on: the ticket has a line to sign for it"
      : ": take it on as it is; the ticket then has a line to sign for it";
    return make("label", { class: "take-on" }, box, make("span", {}, make("code", {}, code), words));
  }

  #focusAgain(key) {
    const again = [...this.root.querySelectorAll("[data-key]")].find(
      (element) => element.dataset.key === key,
    );
    (again ?? this.root.querySelector("h3")).focus();
  }
}

/** Return how many findings of each level there are: ": 1 stop, 2 warnings"; "" for none. */
export function howMany(findings) {
  const levels = [["stop", "stop"], ["warn", "warning"], ["note", "note"]].map(([level, name]) => {
    const many = findings.filter((finding) => finding.level === level).length;
    return many && `${many} ${name}${many === 1 ? "" : "s"}`;
  });
  const words = levels.filter(Boolean).join(", ");
  return words && `: ${words}`;
}
