// The panel: from above, to be pushed open and closed, from the front, and its heading flat.
//
// The server solved the fold at every position; the page only picks one of them.

import { arrange, byId, drawn, make, say, set } from "./dom.js";

const SIDES = { left: "Left panel", right: "Right panel", single: "The panel" };
const RUNNING = [
  ["pole", "Pole taken"],
  ["fullness", "Fullness"],
  ["before", "In front and behind"], // a fold is as deep on either side
  ["angle", "Rings"],
  ["free", "Free to the wall"],
];
const INCH = 96; // px
const FRONT = 320; // px that the view from the front takes beside the others, with what is between
const SIDE_BY_SIDE = 736; // px of width over which it stands beside them, as in the style
const LEAST_ROOM = 60; // mm across that the server draws for
const MOST_ROOM = 240; // and as broad as the style lets a picture be
const LARGER = 1.35; // times its own size that a picture is shown at the most
const BROAD = 1.3; // a front this much wider than high has a row of its own

/** Shows the pictures in `root`. */
export class Pictures {
  constructor(root) {
    this.root = root;
    this.side = "";
    this.panels = [];
    this.moves = null; // every position, as the server solved them
    this.share = null; // how far it is pushed, as a share of the slider's way; null: as planned
    this.pushing = false; // whether the picture is that of the slider's place
    this.choice = make("p", { class: "sides", role: "radiogroup", "aria-label": "Which panel" });
    this.above = make("div", { class: "picture above" });
    this.front = make("div", { class: "picture front" });
    this.flat = make("div", { class: "picture flat" });
    this.unknown = make("p", { class: "state" }); // what isn't known of the view from the front
    this.slider = make("input", {
      id: "slider",
      "aria-label": "Push it: pulled out to pushed together",
      type: "range",
      min: 0,
      step: 1,
      on: { input: () => this.#push(), pointerdown: () => this.#push() },
    });
    this.state = make("p", { class: "state" });
    this.again = make(
      "button",
      { type: "button", class: "link", hidden: true, on: { click: () => this.#closeAgain() } },
      "Back to closed",
    );
    this.running = make(
      "dl",
      { class: "running" },
      ...RUNNING.map(([, words]) => make("div", {}, make("dt", {}, words), make("dd", {}))),
    );
    this.pushed = make(
      "div",
      { class: "pushed" },
      make(
        "div",
        { class: "way" },
        make("label", { for: "slider" }, "Push it: pulled out"),
        this.slider,
        make("span", { "aria-hidden": "true" }, "pushed together"),
      ),
      make("div", { class: "where" }, this.state, this.again),
      this.running,
    );
    const part = (name, title, ...children) =>
      make("section", { class: name }, make("h3", {}, ...title), ...children);
    this.fromAbove = part("from-above", ["From above, the wall at the top"], this.above, this.pushed);
    this.fromFront = part(
      "from-front",
      ["From the front, closed ", make("span", {}, "(back folds grey)")],
      this.unknown,
      this.front,
    );
    this.headingFlat = part("heading-flat", ["The heading, flat"], this.flat);
    this.row = make("div", { class: "row" }, this.choice);
    this.grid = make("div", { class: "grid" });
  }

  /** Return how many millimetres there are for a picture across, beside that from the front. */
  get room() {
    const across = this.root.clientWidth;
    const beside = across > SIDE_BY_SIDE && !this.grid.classList.contains("broad") ? FRONT : 0;
    const mm = Math.floor(((across - beside) / INCH) * 25.4);
    return Math.max(LEAST_ROOM, Math.min(mm, MOST_ROOM));
  }

  /** Show the panels that the server drew. */
  show(panels) {
    this.panels = panels;
    if (!panels.length) this.moves = null;
    if (this.share === null) this.pushing = false;
    this.stale("");
    if (!panels.some((panel) => panel.side === this.side)) this.side = panels[0]?.side ?? "";
    arrange(this.root, panels.length ? [this.row, this.grid] : []);
    this.#sides();
    this.#draw();
  }

  /** Say that figures and pictures are of older answers, and why; "" where they aren't any more. */
  stale(why) {
    const old = this.panels.length ? why : "";
    say(byId("old"), old && `Figures and pictures as last understood: ${old}.`);
    byId("old").hidden = !old;
    byId("panel").classList.toggle("stale", Boolean(old));
  }

  /** Show the positions that the server solved; none where it can't. */
  showMoves(moves) {
    if (!moves.positions.length && byId("panel").classList.contains("stale")) return;
    this.moves = moves.positions.length ? moves : null;
    this.#draw();
  }

  /** Begin with another window or job: closed, as planned. */
  close() {
    this.share = null;
    this.pushing = false;
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
    say(this.unknown, panel.front_unknown);
    this.unknown.hidden = !panel.front_unknown;
    fill(this.flat, panel.flat);
    const drawn = [panel.above.closed && this.fromAbove, this.headingFlat, panel.front && this.fromFront];
    arrange(this.grid, drawn.filter(Boolean));
    const box = this.front.firstChild?.viewBox.baseVal;
    this.grid.classList.toggle("broad", !box || box.width > BROAD * box.height);
    this.pushed.classList.toggle("to-come", !this.moves); // its room is kept: nothing moves
    if (!this.moves || !this.pushing) fill(this.above, panel.above.closed);
    if (!this.moves) return;
    const last = this.moves.positions.length - 1;
    set(this.slider, "max", last);
    this.slider.style.setProperty("--closed", this.moves.planned / last);
    this.slider.value = this.share === null ? this.moves.planned : Math.round(this.share * last);
    this.#position();
  }

  #push() {
    if (!this.moves) return;
    const place = Number(this.slider.value);
    this.share = place === this.moves.planned ? null : place / (this.moves.positions.length - 1);
    this.pushing = true;
    this.#position();
  }

  #closeAgain() {
    this.slider.value = this.moves.planned;
    this.#push();
    this.slider.focus();
  }

  /** Show what the slider stands at: its figures and, once it was pushed, its picture. */
  #position() {
    const { words, path, rings } = this.moves.positions[Number(this.slider.value)];
    say(this.state, words.state || "on the way");
    this.again.hidden = Number(this.slider.value) === this.moves.planned;
    RUNNING.forEach(([key], at) => say(this.running.children[at].lastChild, words[key]));
    const told = RUNNING.map(([key, title]) => `${title}: ${words[key]}`);
    set(this.slider, "aria-valuetext", [words.state, ...told].filter(Boolean).join("; "));
    if (!this.pushing) return;
    fill(this.above, this.moves.panels.find(({ side }) => side === this.side)?.svg);
    set(this.above.querySelector("path.cloth"), "d", path);
    set(this.above.querySelector("path.ring"), "d", rings);
  }
}

/** Put a picture in, where another is there. */
function fill(place, svg) {
  if (place.drawn === svg) return;
  place.drawn = svg;
  const picture = svg && drawn(svg);
  const width = picture && picture.getAttribute("width");
  if (width) picture.style.maxWidth = `min(100%, calc(${width} * ${LARGER}))`;
  place.replaceChildren(...(picture ? [picture] : []));
}
