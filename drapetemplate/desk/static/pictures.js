// The panel: from above, to be pushed open and closed, from the front, and its heading flat.
//
// The server solved the fold at every position; the page only picks one of them.

import { arrange, drawn, make, say, set } from "./dom.js";

const SIDES = { left: "Left panel", right: "Right panel", single: "The panel" };
const BROAD = 1.3; // a front this much wider than high has a row of its own

/** Shows the pictures in `root`. */
export class Pictures {
  constructor(root) {
    this.root = root;
    this.side = "";
    this.panels = [];
    this.moves = new Map(); // what the server solved, by side
    this.share = null; // how far it is pushed, as a share of the slider's way; null: as planned
    this.old = make(
      "p",
      { class: "old", hidden: true },
      "These pictures are of the answers before: one can't be read yet.",
    );
    this.choice = make("p", { class: "sides", role: "radiogroup", "aria-label": "Which panel" });
    this.above = make("div", { class: "picture above" });
    this.front = make("div", { class: "picture front" });
    this.flat = make("div", { class: "picture flat" });
    this.slider = make("input", {
      id: "slider",
      type: "range",
      min: 0,
      step: 1,
      on: { input: () => this.#push() },
    });
    this.running = make("dl", { class: "running" });
    this.pushed = make(
      "div",
      { class: "pushed" },
      make(
        "div",
        { class: "way" },
        make("label", { for: "slider" }, "Push it: closed"),
        this.slider,
        make("span", { "aria-hidden": "true" }, "open"),
      ),
      this.running,
    );
    const part = (name, title, ...children) =>
      make("section", { class: name }, make("h3", {}, title), ...children);
    this.fromAbove = part("from-above", "From above, the wall at the top", this.above, this.pushed);
    this.fromFront = part("from-front", "From the front", this.front);
    this.headingFlat = part("heading-flat", "The heading, flat", this.flat);
    this.row = make("div", { class: "row" }, this.choice, this.old);
    this.grid = make("div", { class: "grid" });
  }

  /** Show the panels that the server drew. */
  show(panels) {
    this.panels = panels;
    this.stale(false);
    if (!panels.some((panel) => panel.side === this.side)) this.side = panels[0]?.side ?? "";
    arrange(this.root, panels.length ? [this.row, this.grid] : []);
    this.#sides();
    this.#draw();
  }

  /** Say that the pictures are of older answers, or not any more. */
  stale(is) {
    this.old.hidden = !is;
    this.root.classList.toggle("stale", is);
  }

  /** Show the positions that the server solved for these panels; none where it can't. */
  showMoves(panels) {
    this.moves = new Map(panels.map((panel) => [panel.side, panel]));
    this.#draw();
  }

  #sides() {
    this.choice.hidden = this.panels.length < 2;
    const sides = this.panels.map((panel) => panel.side);
    const there = [...this.choice.querySelectorAll("input")].map((button) => button.value);
    if (there.join() === sides.join()) return;
    const choose = (side) => {
      this.side = side;
      this.#draw();
    };
    const button = (side) => {
      const input = make("input", {
        type: "radio",
        name: "side",
        value: side,
        on: { change: () => choose(side) },
      });
      input.checked = side === this.side;
      return make("label", {}, input, SIDES[side]);
    };
    this.choice.replaceChildren(...sides.map(button));
  }

  #draw() {
    const panel = this.panels.find(({ side }) => side === this.side);
    if (!panel) return;
    fill(this.front, panel.front);
    fill(this.flat, panel.flat);
    const drawn = [panel.above.closed && this.fromAbove, this.headingFlat, panel.front && this.fromFront];
    arrange(this.grid, drawn.filter(Boolean));
    const box = this.front.firstChild?.viewBox.baseVal;
    this.grid.classList.toggle("broad", !box || box.width > BROAD * box.height);
    const move = this.moves.get(this.side);
    this.pushed.hidden = !move;
    if (move) {
      const last = move.positions.length - 1;
      set(this.slider, "max", last);
      const place = this.share === null ? move.planned : Math.round(this.share * last);
      this.slider.value = place;
      this.#position(move, place);
    } else {
      fill(this.above, panel.above.closed);
    }
  }

  #push() {
    const move = this.moves.get(this.side);
    if (!move) return;
    const place = Number(this.slider.value);
    this.share = place === move.planned ? null : place / (move.positions.length - 1);
    this.#position(move, place);
  }

  #position(move, place) {
    void move;
    void place;
    void say;
  }
}

/** Put a picture in, where another is there. */
function fill(place, svg) {
  if (place.drawn === svg) return;
  place.drawn = svg;
  place.replaceChildren(...(svg ? [drawn(svg)] : []));
}
