/**
 * Asks the server, and hears its answer line by line.
 *
 * One question is out at a time. While its quick part has not come, newer questions wait, and only
 * the newest of them; once that is there, a newer question ends the older one. A line of an older
 * ticket is dropped.
 */
import { linesOf } from "./lines.js";

/** How long a question is left alone for the rest of its quick part, once its first line is there [ms]. */
const PATIENCE = 250;
/** Headers of a question: JSON both ways. */
const HEADERS = { "Content-Type": "application/json" };

export class Desk {
  /**
   * @param {string} base the address of the server with its secret, ending with a slash
   * @param {string} quick the step that the quick part ends with
   * @param {{asked: function, line: function(object, boolean), ended: function, gone: function,
   *   refused: function}} heard `line` gets whether it answers the newest question; `ended` comes
   *   after the last line of the newest one
   */
  constructor(base, quick, heard) {
    this.base = base;
    this.quick = quick;
    this.heard = heard;
    this.page = pageId();
    this.ticket = 0;
    this.out = null;
    this.waiting = null;
  }

  /** Asks, now or as soon as the quick part of the question before has come. */
  ask(question) {
    this.heard.asked();
    if (this.out && !this.out.told) {
      this.waiting = question;
      return;
    }
    this.#send(question);
  }

  /** Ends what is out; nothing more of it is heard. */
  drop() {
    this.waiting = null;
    this.out?.stop.abort();
    this.out = null;
  }

  async #send(question) {
    this.out?.stop.abort();
    this.ticket += 1;
    const mine = { ticket: this.ticket, told: false, stop: new AbortController() };
    this.out = mine;
    this.waiting = null;
    try {
      await this.#hear(mine, question);
    } catch (error) {
      if (this.out === mine) this.#lost(error);
    }
    this.#over(mine);
  }

  async #hear(mine, question) {
    const answer = await post(this.base + "ask", { page: this.page, ticket: mine.ticket, ...question }, mine.stop.signal);
    for await (const line of linesOf(answer.body)) {
      if (this.out !== mine || line.ticket !== mine.ticket) continue;
      this.heard.line(line, this.waiting === null);
      this.#told(mine, line);
      if (this.out !== mine) return;
    }
    if (this.out === mine) this.heard.ended(mine.ticket);
  }

  /** Lets a newer question through once the quick part is here, or takes long. */
  #told(mine, line) {
    const over = () => {
      mine.told = true;
      if (this.out === mine) this.#next();
    };
    if (!line.step || line.step === this.quick) over();
    else if (!mine.told) setTimeout(over, PATIENCE);
  }

  /** Sends what waits; whether there was something. */
  #next() {
    const question = this.waiting;
    if (question === null) return false;
    this.#send(question);
    return true;
  }

  #lost(error) {
    if (error instanceof Refused) this.heard.refused(error.message);
    else this.heard.gone();
  }

  #over(mine) {
    if (this.out !== mine) return;
    this.out = null;
    this.#next();
  }
}

/** The server did not take a question, and says why. */
export class Refused extends Error {}

/** Sends JSON; the answer whose body is still coming. Raises Refused with the server's sentence. */
export async function post(address, content, signal) {
  const answer = await fetch(address, { method: "POST", headers: HEADERS, body: JSON.stringify(content), signal });
  if (!answer.ok) throw await refusal(answer);
  return answer;
}

/** The JSON at an address. */
export async function got(address) {
  const answer = await fetch(address);
  if (!answer.ok) throw await refusal(answer);
  return answer.json();
}

/** What the server says of a question that it does not take. */
async function refusal(answer) {
  const text = await answer.text();
  try {
    return new Refused(String(JSON.parse(text).words));
  } catch {
    return new Refused(`planform explore does not take this (${answer.status}).`);
  }
}

/** A name for this page that no other tab has. */
function pageId() {
  const parts = crypto.getRandomValues(new Uint32Array(4));
  return Array.from(parts, (one) => one.toString(16).padStart(8, "0")).join("");
}
