/** How far an answer is: its parts, those that are there and those that are being worked out. */
import { made, say } from "./made.js";

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
    say(this.words, "being worked out: shape and heights");
  }

  /** Takes what is done and what is left. */
  take({ done = [], left = [] }) {
    const all = done.length + left.length;
    this.bar.max = all || 1;
    this.bar.value = done.length;
    say(this.words, left.length ? `being worked out: ${left[0]}` : "all worked out");
    this.element.dataset.state = left.length ? "working" : "done";
  }

  /** Nothing is being worked out, and why. */
  stopped(words) {
    this.element.dataset.state = "stopped";
    this.bar.value = 0;
    say(this.words, words);
  }
}
