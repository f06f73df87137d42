/** What happens outside the page: a file changes on disk, the server is gone, and comes back. */
import { got } from "./desk.js";
import { listening } from "./events.js";
import { BROKEN, endedWords, gonePaths, takenUpWords, unreadWords } from "./words.js";

/** How long it is told that a file was taken up [ms]. */
const TOLD = 12000;
/** How long after a break it is asked anew [ms], while the connection itself stands. */
const AGAIN = 1500;
const MOST_TRIES = 3;
/** Lines of mistakes in a file that stand across the page; each stands at its field too. */
const MOST_TOLD = 4;

export class Disk {
  /** @param {import("./live.js").Live} live */
  constructor(live) {
    this.live = live;
    this.banner = live.panels.banner;
    this.over = false;
    this.tries = 0;
    this.close = listening(`${live.base}events?page=${live.desk.page}`, {
      file: (told) => this.#file(told),
      ends: (told) => this.#ends(told),
      broken: () => this.#broken(),
      back: () => this.#back(),
    });
  }

  /** A question got no answer: it is asked again, a few times. */
  lost() {
    if (this.over) return;
    this.tries += 1;
    if (this.tries > MOST_TRIES) this.#ends({});
    else {
      this.#broken();
      setTimeout(() => this.over || this.live.ask(), AGAIN);
    }
  }

  /** An answer came. */
  heard() {
    this.tries = 0;
    if (!this.over) this.banner.unsay("server");
  }

  #broken() {
    if (!this.over) this.banner.say("server", BROKEN);
  }

  async #back() {
    this.banner.unsay("server");
    await this.#anew([]);
  }

  async #file({ problems = [], changed = [] }) {
    if (problems.length) {
      this.live.panels.fields.wrong(problems, "file");
      const lines = unreadWords(problems, this.live.numbers.files);
      const more = lines.length > MOST_TOLD ? [`and ${lines.length - MOST_TOLD} more`] : [];
      this.banner.say("file", [...lines.slice(0, MOST_TOLD), ...more]);
      return;
    }
    await this.#anew(changed);
  }

  /** Gets the numbers anew and asks again. */
  async #anew(changed) {
    try {
      const numbers = await got(`${this.live.base}numbers`);
      const lost = this.live.takeNumbers(numbers);
      this.live.panels.fields.wrong([], "file");
      const lines = [...(changed.length ? takenUpWords(changed, numbers.files) : []), ...(lost.length ? gonePaths(lost) : [])];
      this.banner.say("file", lines);
      setTimeout(() => this.banner.unsay("file", lines), TOLD);
      this.live.held.renew();
      this.live.show();
      this.live.ask();
    } catch {
      this.lost();
    }
  }

  #ends(told = {}) {
    if (this.over) return;
    this.over = true;
    this.close();
    const copy = { words: "copy the values", press: () => navigator.clipboard?.writeText(location.hash).catch(() => {}) };
    this.banner.say("server", endedWords(this.live.numbers.command, told.words), [copy]);
    if (document.body.dataset.answer === "whole") return; // the numbers are those of the values shown
    this.live.panels.strip.stopped();
    this.live.panels.progress.stopped("planform explore has ended; the numbers are from before");
  }
}
