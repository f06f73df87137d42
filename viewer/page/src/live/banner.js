/** Words across the page: the server is gone, a file changed, a value does not build. */
import { button, made } from "./made.js";

export class Banner {
  constructor() {
    this.element = made("div", { class: "banner", role: "alert" });
    this.notes = new Map();
  }

  /**
   * Says something until it is taken back, one note of each kind at a time.
   * @param {string} kind
   * @param {string[]} lines sentences; empty takes the note back
   * @param {{words: string, press: function}[]} [actions]
   */
  say(kind, lines, actions = []) {
    const key = JSON.stringify([lines, actions.map((one) => one.words)]);
    const had = this.notes.get(kind);
    if (had?.key === key) return;
    had?.element.remove();
    this.notes.delete(kind);
    if (!lines.length) return;
    const texts = lines.map((line) => made("p", {}, line));
    const buttons = actions.map((one) => button(one.words, one.press));
    const element = made("div", { class: "note", "data-kind": kind }, ...texts, ...buttons);
    this.notes.set(kind, { key, element });
    this.element.append(element);
  }

  /** Takes a note back; only the one of these lines where they are told. */
  unsay(kind, lines = null) {
    if (lines && this.notes.get(kind)?.key !== JSON.stringify([lines, []])) return;
    this.say(kind, []);
  }
}
