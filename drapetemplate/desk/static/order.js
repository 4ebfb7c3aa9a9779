// What all jobs of the folder take together, in a dialog: to read, to narrow to a day, to save.

import { byId, make, say } from "./dom.js";
import { savePdf } from "./keep.js";
import { ask } from "./server.js";

/** Show the order for the jobs in the folder; resolves once it is there, or isn't to be had.
 *
 * `attempt` runs what asks the server, and says why it couldn't be done. */
export async function showOrder({ folder }, attempt) {
  const found = await ask("/order", {});
  const dialog = byId("dialog");
  const before = document.activeElement;
  const close = () => {
    dialog.removeEventListener("cancel", cancelled);
    dialog.classList.remove("wide");
    dialog.close();
    dialog.replaceChildren();
    before?.focus?.();
  };
  const cancelled = (event) => {
    event.preventDefault();
    close();
  };
  const body = make("div", {
    id: "order-shown",
    role: "region",
    "aria-label": "What to buy",
    tabindex: "0",
  });
  const title = make("h2", { id: "dialog-title" });
  const field = make("input", { id: "order-due", type: "date" });
  const narrow = async () => {
    const day = field.value;
    const order = await ask("/order", { due_before: day });
    if (day === field.value) show(order);
  };
  field.addEventListener("change", () => attempt(narrow));
  const save = (words, from) => {
    const press = () => attempt(() => savePdf({ due_before: field.value }, from));
    return make("button", { type: "button", on: { click: press } }, words);
  };
  const saves = [
    save("Save it as a PDF", "/order-pdf"),
    save("Save it as a table (CSV)", "/order-csv"),
  ];
  const show = (order) => {
    say(title, order.none ? "Nothing to buy" : order.title);
    body.replaceChildren(...(order.none ? [make("p", {}, `${order.none}.`)] : shown(order)));
    for (const button of saves) button.disabled = Boolean(order.none);
  };
  show(found);
  dialog.replaceChildren(
    title,
    make(
      "p",
      { class: "quiet" },
      `Of the jobs as they are saved in the folder ${folder}. What is not saved here does not count.`,
    ),
    make("label", { for: "order-due" }, "Only jobs due before"),
    field,
    body,
    make(
      "p",
      { class: "presses" },
      ...saves,
      make("button", { type: "button", on: { click: close } }, "Close"),
    ),
  );
  dialog.classList.add("wide");
  dialog.addEventListener("cancel", cancelled);
  dialog.showModal();
  body.focus();
}

/** What is doubtful, what to buy, and for which jobs. */
function shown({ doubts, things, jobs, rounded, more }) {
  return [
    doubts.length ? make("ul", { id: "order-doubts" }, ...doubts.map(doubted)) : "",
    make(
      "table",
      {},
      make(
        "thead",
        {},
        make("tr", {}, ...["To buy", "What", "For"].map((name) => make("th", { scope: "col" }, name))),
      ),
      make("tbody", {}, ...things.map(bought)),
    ),
    rounded ? make("p", { class: "quiet" }, rounded) : "",
    more ? make("p", {}, `${more} more files were not looked into.`) : "",
    make("h3", {}, "Jobs"),
    make("ul", {}, ...jobs.map(({ name, rest }) => make("li", {}, `${name}: ${rest}`))),
  ];
}

const LEVELS = { stop: "Stop", warn: "Warning", note: "Note" };

function doubted({ level, text }) {
  return make("li", { class: level }, make("strong", {}, LEVELS[level]), ` ${text}`);
}

function bought({ amount, what, why, due, takes, cut_by: cutBy, rolls }) {
  const words = [why, due && `first due ${due}`].filter(Boolean).join("; ");
  return make(
    "tr",
    {},
    make("th", { scope: "row" }, amount),
    make("td", {}, make("strong", {}, what), make("p", { class: "quiet" }, words)),
    make(
      "td",
      {},
      make("ul", {}, ...takes.map((take) => make("li", {}, `${take.job}: ${take.words}`))),
      cutBy ? make("p", {}, `${cutBy}:`) : "",
      rolls.length ? make("ul", {}, ...rolls.map((row) => make("li", {}, row.join(": ")))) : "",
    ),
  );
}
