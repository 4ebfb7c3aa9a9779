// What the plan found: worst first, each with what would mend it, and stops to take on by name.

import { byId, make, say } from "./dom.js";

const FOR = "for PDFs of this page"; // the job file keeps nothing of it
const LEAST = 112; // px that findings may take in any case before some are folded away
const UNDER = 8; // px under what is found and under the pictures
const MOST = 240; // and at the most
export const LOWEST_FRONT = 112; // px that a wide panel's view from the front is high at the least
const ONE_COLUMN = 700; // px of width under which the page has one, as in the style

/** Shows findings in `root`. `take(changes, words)` is called for a remedy, `accept(code, on)` when
 * a stop is taken on or given back, `fitted()` when more or fewer are shown. */
export class Findings {
  constructor(root, { take, accept, fitted }) {
    Object.assign(this, { root, take, accept, fitted });
    this.shown = "";
    this.all = false; // whether those are shown, too, that don't fit
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
    const open = this.root.querySelector("details")?.open;
    this.more = make("button", {
      type: "button",
      class: "link more",
      "data-key": "more",
      on: { click: () => this.#showAll(!this.all) },
    });
    this.root.replaceChildren(
      make(
        "div",
        { class: "head" },
        make(
          "h3",
          { tabindex: "-1", class: findings.length > 1 ? null : "for-ears" },
          "Findings",
          make("span", {}, howMany(findings)),
        ),
        this.more,
      ),
      ...(findings.length ? [] : [make("p", { class: "quiet" }, "Nothing speaks against it.")]),
      ...(grave.length ? [this.#list(grave, accepted)] : []),
      ...(notes.length && grave.length ? [this.#notes(notes, accepted, open)] : []),
      ...(notes.length && !grave.length ? [this.#list(notes, accepted)] : []),
    );
    this.fold();
    if (had) this.#focusAgain(focused);
  }

  /** Take all findings away: there is no plan. */
  clear() {
    this.shown = "";
    this.root.replaceChildren();
  }

  /** Show as many as there is room for, the worst whole in any case, others in brief where they must
   * be, and say how many more there are. Nothing is folded where someone opened the notes under what
   * is graver. */
  fold() {
    const notes = this.root.querySelector("details");
    const items = [...this.root.querySelectorAll(":scope > ul > li")];
    if (!items.length) {
      if (this.more) this.more.hidden = true;
      return;
    }
    for (const item of items) {
      item.hidden = false;
      item.classList.remove("brief");
    }
    if (notes) notes.hidden = false;
    this.more.hidden = true;
    const fits = () => this.root.offsetHeight <= roomForFindings();
    if (fits() || (notes?.open && !this.all)) return;
    if (this.all) {
      this.more.hidden = items.length === 1;
      say(this.more, "Show fewer");
      return;
    }
    if (items.length === 1 && !notes) return;
    this.more.hidden = false;
    say(this.more, "Show all in full");
    for (const item of items.slice(1).reverse()) {
      item.classList.add("brief");
      if (fits()) return;
    }
    if (notes) notes.hidden = true;
    let shown = items.length;
    while (shown > 1 && !fits()) {
      shown -= 1;
      items[shown].hidden = true;
    }
    const more = items.length - shown + (notes?.querySelectorAll("li").length ?? 0);
    if (more) say(this.more, `Show ${more} more`);
  }

  #showAll(all) {
    this.all = all;
    this.fold();
    this.fitted();
  }

  #notes(notes, accepted, open) {
    return make("details", { open }, make("summary", {}, howMany(notes).slice(2)), this.#list(notes, accepted));
  }

  #list(findings, accepted) {
    return make("ul", {}, ...findings.map((finding) => this.#finding(finding, accepted)));
  }

  #finding({ level, code, short, text, title, remedies }, accepted) {
    const parts = [
      this.#inBrief(code, title, short),
      make("p", {}, make("strong", {}, `${title}: `), text),
    ];
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
    if (level === "stop") parts.push(this.#takenOn(code, short, accepted.has(code)));
    return make("li", { class: level, "data-code": code }, ...parts);
  }

  /** A finding's short words, to be pressed, where there is no room for it whole. */
  #inBrief(code, title, short) {
    return make(
      "button",
      {
        type: "button",
        class: "link in-brief",
        "data-key": `brief ${code}`,
        on: { click: () => this.#showAll(true) },
      },
      make("strong", {}, `${title}: `),
      short,
    );
  }

  #takenOn(code, short, on) {
    const box = make("input", {
      type: "checkbox",
      "data-key": `accept ${code}`,
      on: { change: (event) => this.accept(code, event.target.checked) },
    });
    box.checked = on;
    return make(
      "label",
      { class: "take-on" },
      box,
      make("span", {}, `${on ? "Taken" : "Take"} on ${FOR}: ${short}. The ticket has a line to sign.`),
    );
  }

  #focusAgain(key) {
    const again = [...this.root.querySelectorAll("[data-key]")].find(
      (element) => element.dataset.key === key,
    );
    (again ?? this.root.querySelector("h3")).focus();
  }
}

/** Return the height that findings may take before some are folded away, so that the pictures stay
 * in view; in one column nothing is. */
function roomForFindings() {
  if (innerWidth < ONE_COLUMN) return Infinity;
  return Math.min(Math.max(LEAST, leftByPictures()), MOST);
}

/** Return the height that the pictures leave free under them, a wide panel's lowest one as low as
 * it may be. */
function leftByPictures() {
  const [panel, said, pictures] = ["panel", "said", "pictures"].map((id) => byId(id));
  const above = said.getBoundingClientRect().top - panel.getBoundingClientRect().top;
  const below = pictures.getBoundingClientRect().bottom - said.getBoundingClientRect().bottom;
  const lowest = document.querySelector(".broad .front svg");
  const gives = lowest ? Math.max(0, lowest.getBoundingClientRect().height - LOWEST_FRONT) : 0;
  return panel.clientHeight - above - panel.scrollTop - below + gives - UNDER;
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
