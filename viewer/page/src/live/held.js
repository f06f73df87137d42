/**
 * Two variants side by side: one is held beside while the other goes on being changed. The held one
 * is asked for anew, apart, so that all of its numbers come.
 */
import { button, made, say } from "./made.js";
import { Desk } from "./desk.js";
import { FILES } from "./variant.js";

/** Size of a picture [px]. */
const SIZE = [640, 400];

export class Held {
  /**
   * @param {{base: string, quick: string, question: function(object): object,
   *   told: {hold: function, held: function(object|null), rows: function(Map|null), swap: function,
   *   words: function(object): string, draw: function, seen: function(object, object|null): object}}} given
   */
  constructor({ base, quick, question, told }) {
    this.question = question;
    this.told = told;
    this.variant = null;
    this.rows = new Map();
    this.desk = new Desk(base, quick, this.#heard());
    this.element = made("section", { class: "variants", "aria-label": "two variants side by side" });
    this.#draw();
  }

  #heard() {
    const nothing = () => {};
    const line = (one) => this.#take(one);
    return { asked: nothing, ended: () => this.told.draw(), gone: nothing, refused: nothing, line };
  }

  /** Holds a variant, with its numbers as far as they are known and what is seen of it. */
  hold(variant, rows, seen) {
    this.desk.drop();
    this.variant = variant;
    this.rows = rows;
    this.seen = seen;
    this.#draw();
    this.told.held(variant);
    this.told.rows(this.rows);
    this.told.draw();
  }

  /** The files changed: its numbers are from before, and what is seen of it is gone. */
  renew() {
    if (!this.variant) return;
    for (const row of this.rows.values()) row.old = true;
    this.hold(this.variant, this.rows, null);
  }

  /** Asks for the numbers of the held variant, if any of them is missing. */
  complete() {
    const missing = !this.rows.size || [...this.rows.values()].some((row) => row.old);
    if (this.variant && missing) this.desk.ask(this.question(this.variant));
  }

  /** Lets the held variant go. */
  letGo() {
    this.desk.drop();
    this.variant = null;
    this.#draw();
    this.told.held(null);
    this.told.rows(null);
  }

  /** Shows the pictures of the held variant and of the one of now, seen from one place. */
  pictured(held, now, words) {
    if (!this.variant) return;
    this.heldPicture.hidden = !held;
    this.nowPicture.hidden = !now;
    if (held) this.heldPicture.src = held;
    if (now) this.nowPicture.src = now;
    this.nowPicture.alt = `the aircraft now: ${words}`;
    say(this.nowWords, words);
  }

  #take(line) {
    if (line.problems || line.halted || line.failed) return;
    for (const row of line.strip ?? []) this.rows.set(row.key, { ...row, old: false });
    this.told.rows(this.rows);
    if (line.look) this.seen = this.told.seen(line.look, this.seen);
  }

  #draw() {
    const hold = button(this.variant ? "hold this one instead" : "hold this one beside", () => this.told.hold());
    if (!this.variant) {
      const words = "Holds the variant that is shown, with its numbers and picture, while you go on with another.";
      this.element.replaceChildren(made("p", { class: "note" }, words), hold);
      return;
    }
    const swap = button("swap the two", () => this.told.swap());
    const away = button("let the held one go", () => this.letGo());
    this.nowPicture = made("img", { alt: "the aircraft now", hidden: true });
    this.nowWords = made("figcaption", {});
    const words = `held: ${this.told.words(this.variant)}`;
    this.heldPicture = made("img", { alt: words, hidden: true });
    const held = made("figure", {}, this.heldPicture, made("figcaption", {}, words));
    const now = made("figure", {}, this.nowPicture, this.nowWords);
    this.element.replaceChildren(made("div", { class: "pair" }, held, now), made("div", { class: "doings" }, swap, hold, away));
  }
}

/** Pictures of what is held and of what is shown, from where one looks now; "" where there is none. */
export function picturesOf(shop, seen) {
  return [seen ? shop.pictureOf(seen, ...SIZE) : "", shop.picture(...SIZE)];
}

/** How many changes are told of a variant; the others are counted. */
const MOST_TOLD = 4;

/**
 * What a variant changes, in few words.
 * @param {object} variant
 * @param {object} numbers of the server
 */
export function wordsOf(variant, numbers) {
  const words = FILES.flatMap((file) => Object.entries(variant[file]).map(([path, text]) => {
    const number = (numbers[file] ?? []).find((one) => one.path === path);
    return `${number ? number.label : path}: ${text}`;
  }));
  const all = [...words, variant.stage && `at ${variant.stage}`, variant.stance && `on ${variant.stance}`].filter(Boolean);
  if (!all.length) return "as in the files";
  const more = all.length - MOST_TOLD;
  return all.slice(0, MOST_TOLD).join("; ") + (more > 0 ? `; and ${more} more` : "");
}
