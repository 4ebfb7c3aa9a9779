// The desk's page: brings answers to the server, and what it says of them to the screen.

import { Counts } from "./counts.js";
import { byId, make, say, set } from "./dom.js";
import { Findings } from "./findings.js";
import { answersAreOthers, hideLost, notice, showLost, tell, told } from "./foot.js";
import { Form } from "./form.js";
import { changed, Job } from "./job.js";
import { chooseJob, forgetFile, heldFile, holdFile } from "./jobs.js";
import { draftOf, holdUnkept, saveJob, savePdf, takeUnkept } from "./keep.js";
import { showOrder } from "./order.js";
import { fitFindings, fitFront, inSpeech, showFigures, showStill, stillToMend } from "./overview.js";
import { Pictures } from "./pictures.js";
import { ask, Lost, Newest, Refused, whenResting } from "./server.js";
import { Whole } from "./whole.js";
import { Windows } from "./windows.js";

const SOON = 200; // ms of rest until the slider's positions and the counts are asked for
const REST = 500; // until the whole job is, and what changed is read out
const LONG = 2000; // until it is said that an answer takes long
const OTHER_ROOM = 8; // mm across that a picture's room may change by until it is drawn anew
const MOST_TOLD = 6; // answers of a draft that are told
const AGAIN = 1000; // until a program that didn't answer is asked again
const OF_A_WINDOW = /^window\[(\d+)\]/;

const job = new Job();
const accepted = new Set();
let file = { file: null, folder: "", revision: null, saved: {} };
let latest = null; // the last look
let drawn = 0; // the window that the pictures show
let understood = null; // the last look at that window, with a panel, at which typing rested
let known = {}; // what the whole job has against each window, by its number
let lost = ""; // why nothing answers, where nothing does
let restsSoon = false; // whether typing hasn't rested yet
let over = true; // whether nothing more is typed, as after a press: then nothing waits for that
let settling = 0;
let underWay = 0; // things asked of the program that `Newest` doesn't ask
let toVisit = ""; // the path of a field to go to as soon as it is there
let kept = {}; // the answers that a draft or a file has
let asInFile = null; // answers that say what the file does, though they may be spelled otherwise
let refused = false; // whether the program wouldn't keep what was typed last

const form = new Form(byId("form"), {
  typed: (path, text, nothingMore) => {
    job.type(path, text);
    form.go();
    answersChanged(nothingMore);
  },
  entered: () => {
    over = true;
    restIfOver();
  },
});
const findings = new Findings(byId("findings"), {
  take: (changes, words) => {
    job.change(changes);
    answersChanged();
    tell(`Changed: ${words}.`);
  },
  accept: (code, on) => {
    if (on) accepted.add(code);
    else accepted.delete(code);
    findings.show(latest?.findings ?? [], accepted);
    draft.ask(draftOf(job.answers, accepted));
    askWhole();
  },
  fitted: () => fitFindings(),
});
const pictures = new Pictures(byId("pictures"));
const counts = new Counts(byId("counts"), (count) => {
  const path = `window[${job.window}].count`;
  job.change({ [path]: String(count) });
  answersChanged();
  tell(`Changed: ${count} eyelets in a panel.`);
});
const whole = new Whole(byId("cloth"), byId("paper"));
const windows = new Windows(byId("windows"), {
  choose: (number) => lookAt(number),
  act: async (action) => {
    await attempt(async () => {
      const now = await ask("/windows", { answers: job.answers, action, window: job.window });
      job.replace(now.answers, now.window);
      pictures.close();
      if (action !== "remove") toVisit = `window[${now.window}].name`;
      answersChanged();
      if (now.told.length) notice(now.told.join(" "));
    });
  },
});

const look = new Newest("/look", showLook, failed);
const positions = new Newest("/positions", showMoves, failed);
const countsAsked = new Newest("/counts", showCounts, failed);
const wholeAsked = new Newest("/whole", showWhole, failed);
const draft = new Newest("/draft", keptNow, draftFailed);

const soon = whenResting(() => {
  positions.ask({ answers: job.answers, window: job.window });
  countsAsked.ask({ answers: job.answers, window: job.window });
}, SOON);
const rest = whenResting(() => {
  form.rest();
  isUnderstood();
  nothingToDraw();
  refold();
  askWhole();
  readOut();
  restsSoon = false;
}, REST);

/** Mark the page as at rest, as soon as nothing is under way and nothing waits. */
function settle() {
  clearTimeout(settling);
  const asked = [look, positions, countsAsked, wholeAsked, draft].some((each) => each.busy);
  if (restsSoon || asked || underWay) settling = setTimeout(settle, 50);
  else set(document.body, "data-resting", "yes");
}

/** Say that the answer takes long, where it does. */
const slow = whenResting(() => {
  if (document.body.dataset.looked === "no" && !lost) pictures.stale("it takes a while");
}, LONG);

/** Something of the answers is other than before: have it kept, and ask what it comes to. */
function answersChanged(nothingMore = true) {
  draft.ask(draftOf(job.answers, accepted));
  askAll(nothingMore);
}

/** Ask what the answers come to, for the window that is looked at. */
function askAll(nothingMore = true) {
  over = nothingMore;
  form.fill(job.answers);
  set(document.body, "data-resting", "no");
  set(document.body, "data-looked", "no");
  askLook();
  soon.wait();
  rest.wait();
  slow.wait();
  restsSoon = true;
  settle();
  showState();
  answersAreOthers();
  if (lost) isLost(lost);
}

/** Once the look has come, ask for all the rest at once, unless more may be typed. */
function restIfOver() {
  if (!over || document.body.dataset.looked !== "yes") return;
  soon.now();
  rest.now();
}

function askLook() {
  look.ask({ answers: job.answers, window: job.window, room: pictures.room });
}

/** Whether pictures drawn for `room` mm should be drawn anew for the room that there is now. */
const isForOtherRoom = (room) => Math.abs(pictures.room - room) > OTHER_ROOM;

function askWhole() {
  wholeAsked.ask({ answers: job.answers, accept: [...accepted] });
}

function showLook(answer, { answers, window, room }) {
  back();
  if (answers === job.answers && window === job.window) set(document.body, "data-looked", "yes");
  latest = answer;
  form.show(answer.form, job.answers);
  windows.show(answer.windows, job.window, known);
  const name = answer.windows.find((window) => window.number === job.window)?.name ?? "";
  say(byId("panel-title"), answer.windows.length > 1 ? `The panel: ${name}` : "The panel");
  say(byId("job-name"), job.answers["job.name"] || "A new job");
  document.title = `${job.answers["job.name"] || "A new job"} – the desk`;
  if (answer.panels.length) {
    if (drawn !== job.window) understood = null;
    showPanel(answer);
    findings.show(answer.findings, accepted); // as many as the pictures leave room for
    byId("client").hidden = false;
    fitFront();
    drawn = job.window;
    if (isForOtherRoom(room)) askLook();
    showStill(form, answer.faults);
  } else if (form.resting) {
    nothingToDraw();
  }
  if (form.resting) fitFindings();
  isUnderstood();
  if (toVisit && form.visit(toVisit)) toVisit = "";
  restIfOver();
}

/** What is shown is what was typed to its end, as soon as typing rests and its look has come. */
function isUnderstood() {
  const ended = form.resting && document.body.dataset.looked === "yes";
  if (ended && latest.panels.length) understood = latest;
}

/** There is no panel for these answers. While one types that is left unsaid: half a measure is read
 * by no one, and pictures that go and come would only be in the way. */
function nothingToDraw() {
  if (!latest || latest.panels.length) return;
  if (drawn === job.window) {
    // Not those of an answer half typed: of 20 eyelets its 2.
    if (understood) showPanel(understood);
    pictures.stale(stillToMend(form, latest.faults));
  } else {
    pictures.show([]);
    showFigures([]);
    byId("client").hidden = true;
  }
  findings.clear();
  showStill(form, latest.faults);
}

function showPanel({ figures, panels }) {
  showFigures(figures);
  pictures.show(panels);
}

function showMoves(answer) {
  pictures.showMoves(answer);
  if (form.resting) refold(); // what they say takes room, and may come after typing has rested
}

function refold() {
  findings.fold();
  fitFindings();
}

function showCounts(answer) {
  counts.show(answer, latest?.panels[0]?.above.closed ? "pole" : "hooks");
}

/** A stop that stands no more isn't taken on any more: should it come again, it is asked again. */
function noLongerTakenOn({ faults, missing, stops }) {
  if (faults.length || missing.length) return; // what stands isn't known just now
  const before = accepted.size;
  for (const code of accepted) if (!stops.some((stop) => stop.code === code)) accepted.delete(code);
  if (accepted.size < before) draft.ask(draftOf(job.answers, accepted));
}

function showWhole(answer) {
  noLongerTakenOn(answer);
  known = Object.fromEntries((answer.windows ?? []).map((window) => [window.number, window]));
  if (latest) windows.show(latest.windows, job.window, known);
  whole.show(answer);
}

/** Tell a screen reader what has changed. */
function readOut() {
  if (latest) say(byId("spoken"), [told(), ...inSpeech(form, latest)].filter(Boolean).join(". "));
}

function showState() {
  byId("undo").disabled = !job.canUndo;
  byId("redo").disabled = !job.canRedo;
  const state = stateNow();
  if (state === null) return;
  say(byId("file"), [file.file ?? "No job file yet", state].filter(Boolean).join(": "));
}

/** Return how what is typed stands to what is kept; null while that is under way. */
function stateNow() {
  if (job.answers === asInFile || changed(file.saved, job.answers).length === 0) {
    return file.file ? "as the file has it" : "";
  }
  if (changed(kept, job.answers).length) return lost || refused ? "changed, and not kept yet" : null;
  return file.file
    ? "changed, and kept as a draft until you save it"
    : "what you type is kept as a draft";
}

/** Run something that asks the server; say why it couldn't be done. */
async function attempt(what) {
  set(document.body, "data-resting", "no");
  underWay += 1;
  try {
    await what();
    back();
  } catch (error) {
    failed(error);
  } finally {
    underWay -= 1;
    settle();
  }
}

function failed(error) {
  if (error instanceof Lost) {
    gone();
  } else if (error instanceof Refused) {
    if (error.status === 403 || error.status === 401) ended();
    else notice(error.message);
  } else {
    throw error;
  }
}

/** The program doesn't answer: say so, and ask again until it does. */
function gone() {
  isLost(
    "The desk's program doesn't answer. If it has ended, start the desk again in a terminal, open " +
      "the page it shows, which has what was kept, and close this one:",
  );
  setTimeout(tryAgain, AGAIN);
}

/** Another run of the program answers, or this page never had the key. */
function ended() {
  isLost(
    "This page belongs to no desk that runs now. Start it again in a terminal: a new page opens " +
      "with what was kept, and this one can be closed.",
  );
}

function isLost(why) {
  lost = why;
  const notKept = changed(kept, job.answers).map((path) => [
    form.label(path),
    job.answers[path] ?? "(empty)",
  ]);
  showLost(why, file.file ? `drapetemplate desk ${file.file}` : "drapetemplate desk", notKept);
  pictures.stale("nothing answers");
  holdUnkept(file, notKept.length ? job.answers : null);
  showState();
}

/** The program keeps these answers. */
function keptNow(answer, { answers }) {
  kept = answers;
  refused = false;
  if (!answer.differs) asInFile = answers;
  holdUnkept(file, null);
  back();
  showState();
}

let trying = false;
async function tryAgain() {
  if (trying || !lost) return;
  trying = true;
  try {
    const answers = job.answers;
    keptNow(await ask("/draft", draftOf(answers, accepted)), { answers });
    answersChanged();
  } catch (error) {
    if (error instanceof Lost) setTimeout(tryAgain, AGAIN);
    else if (error instanceof Refused && error.status === 409) draftFailed(error);
    else failed(error);
  } finally {
    trying = false;
  }
}

function back() {
  if (!lost) return;
  lost = "";
  hideLost();
  showState();
}

/** Another page has the same job open and wrote since: neither undoes the other in silence. */
function draftFailed(error) {
  if (!(error instanceof Refused) || error.status !== 409) {
    failed(error);
    return;
  }
  const mine = job.answers;
  refused = true;
  showState();
  notice(`${sentence(error.message)} What is typed here is not kept as a draft.`, {
    stays: true,
    presses: [
      ["Take what is there now", () => attempt(start)],
      [
        "Keep what this page has",
        () =>
          attempt(async () => {
            await start();
            job.replace(mine, 1);
            answersChanged();
            notice("");
          }),
      ],
    ],
  });
}

const sentence = (text) => `${text[0].toUpperCase()}${text.slice(1)}.`;

async function save() {
  await attempt(async () => {
    const saved = await saveJob({ answers: job.answers, ...file });
    if (!saved) return;
    if (saved.reload) {
      await start();
      return;
    }
    file = { ...file, ...saved, saved: job.answers };
    holdFile(saved.file);
    kept = job.answers;
    asInFile = null;
    if (accepted.size) draft.ask(draftOf(job.answers, accepted)); // the file has no place for them
    notice(`Saved as ${saved.file}.`);
    showState();
  });
}

/** Save the PDF; of a roll's two the ticket when that is pressed: browsers mind a second file that
 * nobody asked for. */
async function pdf(part = 0) {
  notice("Making the PDF…");
  await orWhyNot(async () => {
    const { name, parts } = await savePdf({ answers: job.answers, accept: [...accepted], part });
    const more = part + 1 < parts ? [["Save the ticket's PDF too", () => pdf(part + 1)]] : [];
    notice(
      `${name}: handed to the browser to save. Print it at actual size, 100 %, on one side.`,
      { presses: more },
    );
  });
}

/** Save the page for the client to sign. */
async function approval() {
  notice("Making the client's page…");
  await orWhyNot(async () => {
    const { name } = await savePdf({ answers: job.answers }, "/approval");
    notice(`${name}: handed to the browser to save.`);
  });
}

/** Do what makes a PDF; where the job can't be made, say why. */
async function orWhyNot(make) {
  await attempt(async () => {
    try {
      await make();
    } catch (error) {
      if (!(error instanceof Refused) || !error.faults.length) {
        notice(error instanceof Lost ? "No PDF: the desk's program doesn't answer." : "");
        throw error;
      }
      const lines = error.faults.map((fault) => fault.text);
      const there = lines.length === 1 ? "Go to it" : "Go to the first";
      const presses = [[there, () => showWhy(error.faults)]];
      if (lines.length === 1) notice(`No PDF: ${lines[0]}`, { presses });
      else notice(`No PDF: ${lines.length} things to mend first`, { presses, lines });
    }
  });
}

/** Look at another window: closed, from the top of what is said of it. */
function lookAt(number) {
  job.choose(number);
  pictures.close();
  byId("panel").scrollTop = 0;
  askAll();
}

/** Go to the field that a fault is about, at another window too, or to what is found. */
function showWhy(faults) {
  if (faults.some((fault) => form.visit(fault.path))) return;
  const elsewhere = faults.find((fault) => OF_A_WINDOW.test(fault.path));
  if (elsewhere) {
    toVisit = elsewhere.path;
    lookAt(Number(OF_A_WINDOW.exec(elsewhere.path)[1]));
  } else {
    byId("said").focus();
  }
}

function step(path) {
  answersChanged();
  if (path) form.fields.get(path)?.element.scrollIntoView({ block: "nearest" });
}

/** Say which draft is taken up, and where it differs from the file: in `MOST_TOLD` places. */
function takenUp({ file: name, left_on: leftOn, differs }) {
  const begun = `Taken up where this was left on ${leftOn}`;
  if (!name) return `${begun}: no job file has it yet.`;
  if (!differs.length) return `${begun}: it is not in the job file as it stands here.`;
  const lines = differs
    .slice(0, MOST_TOLD)
    .map((each) => `${each.label} ${each.draft || "(empty)"}, in the file ${each.file || "(empty)"}`);
  if (differs.length > MOST_TOLD) lines.push(`and ${differs.length - MOST_TOLD} more`);
  return [`${begun}: it differs from the job file in`, ...lines].join("\n");
}

/** Open another job of the folder: this tab loads again with it, once all that is typed is kept. */
async function open() {
  await attempt(async () => {
    const chosen = await chooseJob(file);
    if (chosen === null) return;
    const answers = job.answers;
    if (changed(kept, answers).length) {
      try {
        keptNow(await ask("/draft", draftOf(answers, accepted)), { answers });
      } catch (error) {
        draftFailed(error); // which says so: nothing is left that isn't kept
        return;
      }
    }
    holdFile(chosen);
    location.reload();
  });
}

/** Ask for what this tab had open, or else what the desk was started with. */
async function begin() {
  const held = heldFile();
  if (held === null) return await ask("/start", {});
  try {
    return await ask("/start", { file: held });
  } catch (error) {
    if (!(error instanceof Refused) || error.status !== 422) throw error;
    forgetFile();
    const begun = await ask("/start", {});
    return { ...begun, faults: [...error.faults, ...begun.faults] };
  }
}

async function start() {
  const begun = await begin();
  const { file: name, folder, revision, in_file: inFile, answers } = begun;
  file = { file: name, folder, revision, saved: inFile };
  holdFile(name);
  job.begin(inFile);
  if (begun.from === "draft") job.replace(answers, 1); // a step: undo takes the file as it is
  kept = job.answers;
  asInFile = null;
  refused = false;
  accepted.clear();
  for (const code of begun.accept) accepted.add(code);
  const [readAt, unkept] = takeUnkept(file) ?? [];
  const told = begun.faults.map((fault) => `${fault.path} ${fault.text}`.trim());
  const asItIs = name ? "Take the file as it is instead" : "Begin with nothing instead";
  const presses = [];
  const more = unkept ? changed(job.answers, unkept) : [];
  if (begun.from === "draft") told.unshift(takenUp(begun));
  if (more.length) {
    const typed = more.slice(0, MOST_TOLD).map((path) => `${path}: ${unkept[path] ?? "(empty)"}`);
    const others = readAt !== revision; // typed against a file that is no more
    const done = others ? "Not taken up, since the file has changed" : "Taken up";
    told.unshift([`${done}: what this page had and the program had not kept.`, ...typed].join("\n"));
    if (!others) job.replace(unkept, 1);
  }
  if (job.canUndo) {
    presses.push([
      asItIs,
      () => {
        job.replace(inFile, 1);
        answersChanged();
        notice("");
      },
    ]);
  }
  notice(told.join("\n"), { stays: true, presses });
  const left = begun.left_out ?? [];
  byId("left-out").replaceChildren(
    ...(left.length
      ? [
          make(
            "p",
            { class: "quiet" },
            `The file also has ${left.join(", ")}: no question asks for it, and it stays as it is.`,
          ),
        ]
      : []),
  );
  drawn = 0;
  if (begun.from === "new") toVisit = "job.name";
  if (changed(kept, job.answers).length) answersChanged();
  else askAll();
}

const resized = whenResting(() => {
  if (latest?.panels.length) askLook();
}, SOON);
window.addEventListener("resize", () => {
  refold();
  resized.wait();
});
byId("findings").addEventListener("toggle", fitFindings, { capture: true });
byId("open").addEventListener("click", open);
byId("undo").addEventListener("click", () => step(job.undo()));
byId("redo").addEventListener("click", () => step(job.redo()));
byId("save").addEventListener("click", save);
byId("pdf").addEventListener("click", () => pdf());
byId("approval").addEventListener("click", () => approval());
byId("order").addEventListener("click", () => attempt(() => showOrder(file, attempt)));
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  if (byId("dialog").open) return;
  const key = event.key.toLowerCase();
  if (key === "s") {
    event.preventDefault();
    save();
    return;
  }
  const typing = event.target.matches?.("input[type=text], textarea");
  if (typing) return; // a field undoes its own typing
  if (key === "z") step(event.shiftKey ? job.redo() : job.undo());
  else if (key === "y") step(job.redo());
  else return;
  event.preventDefault();
});

window.addEventListener("beforeunload", (event) => {
  if (lost && changed(kept, job.answers).length) event.preventDefault();
});

attempt(start);
