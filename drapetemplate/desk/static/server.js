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
async function send(path, body) {
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

/** Post `body`, return the answer's JSON. */
export async function ask(path, body) {
  const answer = await send(path, body);
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

let sequence = 0;

/** Asks one thing again and again as answers change; only the newest matters.
 *
 * At most two requests are under way, the program drops the elder where it can, and one more waits
 * here, always the newest. An answer that is older than the newest taken is dropped. */
export class Newest {
  constructor(path, taken, failed) {
    this.path = path;
    this.taken = taken;
    this.failed = failed;
    this.underWay = 0;
    this.waiting = null;
    this.newest = 0;
  }

  /** Ask with `body` as soon as may be. */
  ask(body) {
    this.waiting = body;
    if (this.underWay < 2) this.#next();
  }

  /** Forget what waits or is under way: its answer won't be taken. */
  forget() {
    this.waiting = null;
    this.newest = ++sequence;
  }

  /** Whether an answer is still to come. */
  get busy() {
    return this.underWay > 0;
  }

  async #next() {
    const body = this.waiting;
    if (body === null) return;
    this.waiting = null;
    const seq = ++sequence;
    this.underWay += 1;
    try {
      const answer = await ask(this.path, { seq, ...body });
      if (seq >= this.newest) {
        this.newest = seq;
        this.taken(answer, body);
      }
    } catch (error) {
      if (!(error instanceof Refused && error.answer.dropped) && seq >= this.newest) {
        this.failed(error, body);
      }
    } finally {
      this.underWay -= 1;
      this.#next();
    }
  }
}

/** Return a function that runs `what` when it wasn't called for `rest` milliseconds. */
export function whenResting(what, rest) {
  let timer = 0;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(what, rest);
  };
}
