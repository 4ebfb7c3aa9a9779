// What stands over the pictures and under them in words: figures, what is missing, what is read out.

import { byId, make } from "./dom.js";
import { howMany, LOWEST_FRONT } from "./findings.js";
import { linksTo } from "./form.js";

const FIRST = 6; // figures that stand over the pictures
const MARGIN = 12; // px under the lowest picture
const ALL_ELSE = "All else may stay as it is: what is then taken stands in its field, or under it.";
const SPOKEN = 4; // and that are read out

/** Show the first figures over the pictures, and all of them under these. */
export function showFigures(figures) {
  const pair = ({ name, value }) => make("div", {}, make("dt", {}, name), make("dd", {}, value));
  const short = ({ name, value, near }) => pair({ name, value: near ?? value.split(", ")[0] });
  byId("first-figures").replaceChildren(...figures.slice(0, FIRST).map(short));
  byId("all-figures").replaceChildren(
    ...(figures.length
      ? [make("h2", {}, "All figures"), make("dl", { class: "figures" }, ...figures.map(pair))]
      : []),
  );
}

/** Return how many answers keep the panel from being drawn, in words. */
export function stillToMend(form, faults) {
  const wrong = form.faulty().length + faults.filter((fault) => !fault.path).length;
  const missing = form.missing().length;
  const said = [];
  if (wrong) said.push(wrong === 1 ? "1 answer isn't right yet" : `${wrong} answers aren't right yet`);
  if (missing) said.push(missing === 1 ? "1 answer is missing" : `${missing} answers are missing`);
  return said.join(", ");
}

/** Say what is still to be answered or mended before there is a picture. */
export function showStill(form, faults) {
  const missing = form.missing();
  const faulty = form.faulty();
  const elsewhere = faults.filter((fault) => !fault.path);
  const parts = [];
  if (faulty.length) parts.push(make("p", {}, "Not right yet:"), linksTo(form, faulty));
  if (elsewhere.length) {
    parts.push(make("ul", {}, ...elsewhere.map((fault) => make("li", {}, fault.text))));
  }
  if (missing.length) {
    parts.push(make("p", {}, "Still to answer before the panel can be drawn:"));
    parts.push(linksTo(form, missing));
    const never = !byId("pictures").childElementCount;
    if (never) parts.push(make("p", { class: "quiet" }, ALL_ELSE));
  }
  byId("still").hidden = !parts.length;
  byId("still").replaceChildren(...parts);
}

/** Give what is found and what is missing the height that it takes; until then it keeps the one that
 * it has. */
export function fitFindings() {
  const place = byId("said");
  place.style.height = "";
  place.style.height = `${place.offsetHeight}px`;
  fitFront();
}

/** Make a wide panel's picture from the front, the lowest one, as high as leaves it in view. */
export function fitFront() {
  const picture = document.querySelector(".broad .front svg");
  if (!picture) return;
  const panel = byId("panel");
  const above = picture.getBoundingClientRect().top - panel.getBoundingClientRect().top;
  const left = panel.clientHeight - above - panel.scrollTop - MARGIN;
  picture.style.maxHeight = `clamp(${LOWEST_FRONT}px, ${left}px, 24rem)`;
}

/** Return what a screen reader is told of a look at the panel, when typing rests. */
export function inSpeech(form, { panels, findings, figures }) {
  const words = form
    .faulty()
    .map((field) => `${field.told.label} Not right: ${field.told.fault}`);
  if (!panels.length) return words;
  words.push(...figures.slice(0, SPOKEN).map(({ name, value }) => `${name} ${value}`));
  if (findings.length) words.push(`Findings${howMany(findings)}`);
  return words;
}
