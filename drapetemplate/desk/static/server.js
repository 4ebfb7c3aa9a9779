// Talks to the desk's program on this computer: one key a run, JSON there and back.

const KEY = keyOfThisPage();
/** Tells this page from another that has the same job open. */
export const PAGE = crypto.randomUUID();

/** An answer that says no: `faults` why, each with its `path` or "". */
export class Refused extends Error {
  constructor(status, answer) {
    super(answer.faults?.map((fault) => fault.text).join("\n") || `refused (${status})`);
    this.status = status;
    this.answer = answer;
    this.faults = answer.faults ?? [];
  }
}

/** The program didn't answer at all. */
export class Lost extends Error {}

/** Take the key out of the address, so that it is in no history and on no screen. It is kept for
 * this tab, so that the page can be loaded again. */
function keyOfThisPage() {
  const given = location.hash.slice(1);
  if (/^[\w-]{20,}$/.test(given)) {
    sessionStorage.setItem("key", given);
    history.replaceState(null, "", location.pathname);
  }
  return sessionStorage.getItem("key") ?? "";
}

/** Post `body`; the answer, as it came. Throws `Refused` or `Lost`. */
async function send(path, body, signal = null) {
  let answer;
  try {
    answer = await fetch(path, {
      method: "POST",
      headers: {
        "Content-Type": "application/json",
        "X-Desk-Key": KEY,
        "X-Desk-Page": PAGE,
      },
      body: JSON.stringify(body),
      cache: "no-store",
      credentials: "omit",
      signal,
    });
  } catch (error) {
    throw new Lost(error.message);
  }
  if (answer.ok) return answer;
  let why = {};
  try {
    why = await answer.json();
  } catch {
    // A refusal before any handler may be plain text: its status says enough.
  }
  throw new Refused(answer.status, why);
}

/** Post `body`, return the answer's JSON; `signal` gives it up. */
export async function ask(path, body, signal = null) {
  const answer = await send(path, body, signal);
  try {
    return await answer.json();
  } catch (error) {
    throw new Lost(error.message); // torn in mid-answer
  }
}

/** Post `body`, return a file: its bytes and its name. */
export async function fetchFile(path, body) {
  const answer = await send(path, body);
  const given = answer.headers.get("Content-Disposition") ?? "";
  const encoded = /filename\*=UTF-8''([^;]+)/i.exec(given);
  const plain = /filename="?([^";]+)"?/i.exec(given);
  const name = encoded ? decodeURIComponent(encoded[1]) : (plain?.[1] ?? "template.pdf");
  return { name, bytes: await answer.blob(), answer };
}

const PATIENCE = 400; // ms
let sequence = 0;

/** Asks one thing again and again as answers change; only the newest matters.
 *
 * One request is under way, and the newest of those that came meanwhile waits for it; not longer
 * than PATIENCE, then the one under way is given up. */
export class Newest {
  constructor(path, taken, failed) {
    this.path = path;
    this.taken = taken;
    this.failed = failed;
    this.waiting = null;
    this.underWay = null; // what gives up the request under way
    this.timer = 0;
  }

  /** Ask with `body` as soon as may be. */
  ask(body) {
    this.waiting = body;
    if (!this.underWay) this.#next();
    else if (!this.timer) this.timer = setTimeout(() => this.underWay?.abort(), PATIENCE);
  }

  /** Whether an answer is still to come. */
  get busy() {
    return this.underWay !== null;
  }

  async #next() {
    const body = this.waiting;
    if (body === null) return;
    this.waiting = null;
    const giveUp = new AbortController();
    this.underWay = giveUp;
    try {
      this.taken(await ask(this.path, { seq: ++sequence, ...body }, giveUp.signal), body);
    } catch (error) {
      const dropped = error instanceof Refused && error.answer.dropped;
      if (!dropped && !giveUp.signal.aborted) this.failed(error, body);
    } finally {
      clearTimeout(this.timer);
      this.timer = 0;
      this.underWay = null;
      this.#next();
    }
  }
}

/** Runs `what` when it wasn't told to `wait` for `rest` milliseconds, or `now`, if it waits. */
export function whenResting(what, rest) {
  let timer = 0;
  const run = () => {
    clearTimeout(timer);
    timer = 0;
    what();
  };
  const wait = () => {
    clearTimeout(timer);
    timer = setTimeout(run, rest);
  };
  return { wait, now: () => timer && run() };
}
