// The page's foot: what goes on, and what the program hasn't kept while it doesn't answer.

import { byId, make, set } from "./dom.js";

let passes = false; // whether what it says is done with at the next change
let words = ""; // what is to be read out, once typing rests

/** Say something at the foot, with things to press, [words, what then]; "" takes it away. `lines`
 * open under it when it is pressed.
 *
 * It goes at the next change of the answers, or where it `stays`, when it is closed. */
export function notice(text, { presses = [], stays = false, lines = [] } = {}) {
  passes = !stays;
  const press = (name, label, pressed) =>
    make("button", { type: "button", class: name, on: { click: pressed } }, label);
  byId("notice").replaceChildren(
    ...(text
      ? [
          lines.length
            ? make(
                "details",
                {},
                make("summary", {}, text),
                make("ul", {}, ...lines.map((line) => make("li", {}, line))),
              )
            : make("span", {}, text),
          ...presses.map(([label, pressed]) => press("", label, pressed)),
          press("close", "Close", () => notice("")),
        ]
      : []),
  );
}

/** The answers have changed: what was said of those before is done with. */
export function answersAreOthers() {
  if (passes) notice("");
}

/** Have something read out, when typing rests, that is plain to see. */
export function tell(text) {
  words = text;
}

/** Return what is to be read out, once. */
export function told() {
  const now = words;
  words = "";
  return now;
}

/** Say that the program doesn't answer, how to start it, and what it hasn't kept: [label, text]. */
export function showLost(text, command, notKept) {
  set(document.body, "class", "is-lost");
  const first = byId("lost").hidden;
  byId("lost").hidden = false;
  const place = byId("lost-words");
  // Said once: it is read out.
  if (place.textContent !== `${text} ${command}`) {
    place.replaceChildren(`${text} `, make("code", {}, command));
  }
  byId("not-kept").replaceChildren(
    ...(notKept.length
      ? [
          make("p", {}, "Not kept yet, and to be typed again there:"),
          make("ul", {}, ...notKept.map(([label, typed]) => make("li", {}, `${label} ${typed}`))),
        ]
      : [make("p", {}, "All that was typed is kept.")]),
  );
  if (first) document.activeElement.scrollIntoView({ block: "nearest" });
}

/** The program answers again. */
export function hideLost() {
  set(document.body, "class", null);
  byId("lost").hidden = true;
  byId("lost-words").replaceChildren();
}
