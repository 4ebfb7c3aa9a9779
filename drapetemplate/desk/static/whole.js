// What the whole job takes: its cloth, its order and its paper.

import { drawn, make } from "./dom.js";

/** Shows the cloth in one place and the paper in another. */
export class Whole {
  constructor(cloth, paper) {
    Object.assign(this, { cloth, paper });
    this.shown = "";
  }

  /** Show what the server told of the whole job. */
  show({ cloth = [], order = [], paper = null }) {
    const now = JSON.stringify([cloth, order, paper]);
    if (now === this.shown) return;
    this.shown = now;
    this.cloth.replaceChildren(...(cloth.length || order.length ? clothParts(cloth, order) : []));
    this.paper.replaceChildren(...(paper ? paperParts(paper) : []));
  }
}

function clothParts(cloth, order) {
  const parts = [make("h2", {}, "Cloth and order")];
  if (order.length) {
    parts.push(make("h3", {}, "To buy for the whole job"), lines(order));
  }
  for (const { part, fabric, words, pictures } of cloth) {
    const title = [part, fabric].filter(Boolean).join(": ");
    parts.push(make("h3", {}, title), lines(words));
    const cuts = pictures.map((picture) => make("div", { class: "picture" }, drawn(picture)));
    parts.push(make("div", { class: "cuts" }, ...cuts));
  }
  return parts;
}

function paperParts({ sheets, orientation, joins, words }) {
  const told = Array.isArray(words) ? words : words ? [words] : [];
  if (!told.length) told.push(`${sheets} sheets, ${orientation}, ${joins} joins`);
  return [make("h2", {}, "Paper"), lines(told)];
}

const lines = (texts) => make("ul", { class: "lines" }, ...texts.map((text) => make("li", {}, text)));
