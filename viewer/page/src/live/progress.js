/** How far an answer is: its parts, those that are there and those that are being worked out. */
import { made, say } from "./made.js";

/** Words of the parts; the others have words of their own. */
const WORDS = {
  built: "shape and heights", balance: "weight and balance", flow: "margin and drag",
  "the base": "the same for the files as they are",
};
/** What comes last, and is nothing to wait for. */
const END = "all";

export class Progress {
  constructor() {
    this.words = made("span", { class: "words" });
    this.bar = made("progress", { "aria-label": "parts of the answer that are worked out", max: 1, value: 1 });
    this.element = made("p", { class: "progress" }, this.bar, this.words);
    this.since = 0;
  }

  /** A question is out. */
  asked() {
    this.element.dataset.state = "working";
    this.bar.removeAttribute("value");
    say(this.words, `being worked out: ${WORDS.built}`);
  }

  /** Takes what is done and what is left. */
  take({ done = [], left = [] }) {
    const next = left.filter((step) => step !== END)[0];
    this.bar.max = done.length + left.length || 1;
    this.bar.value = next ? done.length : this.bar.max;
    say(this.words, next ? `being worked out: ${WORDS[next] ?? next}` : "all worked out");
    this.element.dataset.state = next ? "working" : "done";
  }

  /** Nothing is being worked out, and why. */
  stopped(words) {
    this.element.dataset.state = "stopped";
    this.bar.value = 0;
    say(this.words, words);
  }
}
