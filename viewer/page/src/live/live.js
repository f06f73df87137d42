/** The part of the page where values move: what is asked for, and how it got to be asked for. */
import { Answers } from "./answers.js";
import { Desk, got } from "./desk.js";
import { Disk } from "./disk.js";
import { Held, picturesOf, wordsOf } from "./held.js";
import { settled } from "./made.js";
import { movedTexts } from "./moving.js";
import { mount, panelsFor } from "./panels.js";
import { Past } from "./past.js";
import { onPasted, remember, remembered } from "./remembered.js";
import { BASE, FILES, asText, changed, same, withValue, withValues } from "./variant.js";

/** How long a change is left to go on before it stands in the address and in a picture [ms]. */
const REST = 250;

export class Live {
  /**
   * @param {Element} aside where the panels go
   * @param {object} shop the page's shop: take(look), onMove(call), picture(width, height), held()
   * @param {{base: string, numbers: object, asked: object}} given address of the server, the
   *   numbers it told, and the stage, stance and spot of the command line
   */
  constructor(aside, shop, { base, numbers, asked }) {
    this.shop = shop;
    this.base = base;
    const kept = remembered();
    this.first = { ...BASE, ...asked, spot: typeof asked.spot === "string" ? { name: asked.spot } : asked.spot ?? null };
    this.variant = kept.variant ?? this.first;
    this.past = new Past(this.variant);
    this.panels = panelsFor(base, this.#told());
    const quick = numbers.files.place ? "standing in the room" : "built";
    const answers = new Answers(this.panels, shop, this.#answered());
    this.desk = new Desk(base, quick, answers);
    this.held = this.#holding(quick);
    mount(aside, this.panels, this.held);
    this.keepSoon = settled(REST, () => this.#remember());
    this.pictureSoon = settled(REST, () => this.#picture());
    this.pinned = kept.pins;
    this.takeNumbers(numbers);
    if (kept.held) this.held.hold(kept.held, new Map(), null);
    this.#listen();
    this.set(this.variant, false);
  }

  /** What the panels tell. */
  #told() {
    return {
      value: (number, text, over) => this.set(withValue(this.variant, number.whose, number.path, text), over, `${number.whose}:${number.path}`),
      pins: (pins) => {
        this.pinned = pins;
        this.keepSoon();
      },
      choose: (key, name) => this.set({ ...this.variant, [key]: key === "spot" && name !== null ? { name } : name }),
      hand: (move) => this.hand(move),
      back: () => this.#turn(this.past.back()),
      forth: () => this.#turn(this.past.forth()),
      base: () => this.set(this.first),
      keep: () => this.panels.keeping.open(this.variant, this.numbers.files),
    };
  }

  /** What is done beside as answers come. */
  #answered() {
    return {
      told: () => {
        this.disk.heard();
        this.pictureSoon();
      },
      ended: () => this.held.complete(),
      gone: () => this.disk.lost(),
    };
  }

  #holding(quick) {
    const told = {
      hold: () => this.held.hold(this.variant, this.panels.strip.kept(), this.shop.seen()),
      draw: () => this.pictureSoon?.(),
      seen: (look, had) => this.#seen(look, had),
      held: () => this.keepSoon?.(),
      rows: (rows) => this.panels.strip.beside(rows),
      swap: () => this.#swap(),
      words: (variant) => wordsOf(variant, this.numbers),
    };
    return new Held({ base: this.base, quick, question: (variant) => this.question(variant), told });
  }

  #listen() {
    this.disk = new Disk(this);
    this.shop.onMove?.((move) => this.hand(move));
    onPasted(({ variant }) => {
      if (asText(variant ?? BASE) !== asText(this.variant)) this.set(variant ?? BASE);
    });
    addEventListener("keydown", (event) => this.#key(event));
    for (const turned of ["pointerup", "wheel", "keyup"]) addEventListener(turned, () => this.held.variant && this.pictureSoon(), { passive: true });
  }

  /** Takes the numbers of the files, new ones too; what is changed of others is left out. */
  takeNumbers(numbers) {
    this.numbers = numbers;
    const { fields, standing, mover } = this.panels;
    fields.take(numbers, this.pinned);
    standing.take(numbers);
    mover.take(movable(numbers), numbers.units);
    return this.#withoutLost();
  }

  /** Takes out of the variant what the files no longer have; the paths of it. */
  #withoutLost() {
    const lost = [];
    for (const file of FILES) {
      const known = new Set((this.numbers[file] ?? []).map((one) => one.path));
      const gone = Object.keys(this.variant[file]).filter((path) => !known.has(path));
      lost.push(...gone);
      for (const path of gone) this.variant = withValue(this.variant, file, path, null);
    }
    return lost;
  }

  /** Asks for a variant; a step of the past where a gesture is over, on `what` it was. */
  set(variant, over = true, what = "") {
    this.variant = variant;
    if (over && !same(variant, this.past.now)) this.past.add(variant, what);
    this.show();
    this.ask();
    this.keepSoon();
  }

  /** Asks for what is shown, anew. */
  ask() {
    this.desk.ask(this.question(this.variant));
  }

  /** The question that a variant is. */
  question(variant) {
    const { design, place, stage, stance, spot } = variant;
    return { changes: { design, place }, stage, stance, spot, whole: false, base: null, has: this.shop.held?.() ?? [] };
  }

  /** Shows a variant in all panels. */
  show() {
    const { fields, standing, buttons } = this.panels;
    fields.show(this.variant);
    standing.show(this.variant);
    buttons.back.disabled = !this.past.before.length;
    buttons.forth.disabled = !this.past.after.length;
    buttons.base.disabled = same(this.variant, this.first);
    buttons.keep.disabled = !changed(this.variant);
  }

  /** Something was moved by hand on the floor, from where it stood as the gesture began. */
  hand({ name, dx, dy, turn, done }) {
    this.grip = this.grip?.name === name ? this.grip : { name, from: this.variant };
    const { from } = this.grip;
    if (done) this.grip = null;
    const moves = movable(this.numbers).some((one) => one.name === name) ? name : this.#spot();
    const numbers = (this.numbers.place ?? []).filter((one) => one.moves === moves);
    if (!numbers.length) return;
    const texts = movedTexts(numbers, from.place, { dx, dy, turn: turn ?? 0 }, this.numbers.units);
    this.set(withValues(this.variant, "place", texts), Boolean(done), `moved ${name}`);
  }

  /** The spot that the aircraft stands on. */
  #spot() {
    return this.variant.spot?.name ?? this.numbers.spots?.[0]?.name ?? "";
  }

  #turn(variant) {
    if (!variant) return;
    this.variant = variant;
    this.set(variant, false);
  }

  #swap() {
    const { variant } = this.held;
    this.held.hold(this.variant, this.panels.strip.kept(), this.shop.seen());
    this.set(variant);
  }

  #key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || typing(event.target)) return;
    const key = event.key.toLowerCase();
    const forth = key === "y" || (key === "z" && event.shiftKey);
    if (!forth && key !== "z") return;
    event.preventDefault();
    this.#turn(forth ? this.past.forth() : this.past.back());
  }

  #remember() {
    remember({ variant: this.variant, held: this.held.variant, pins: this.pinned });
  }

  /** What is seen of the held variant after a look of it came. */
  #seen(look, had) {
    if (Object.keys(look.meshes ?? {}).length) this.shop.take({ meshes: look.meshes });
    return this.shop.seen(look.stages?.at(-1) ?? had?.stage, look.room ?? had?.room);
  }

  /** The pictures of both variants. */
  #picture() {
    if (!this.held.variant) return;
    this.held.pictured(...picturesOf(this.shop, this.held.seen), wordsOf(this.variant, this.numbers));
  }
}

/** Whether a key goes into a text that is being written. */
function typing(target) {
  return target instanceof HTMLInputElement && target.type === "text" && document.activeElement === target;
}

/** What can be moved on the floor: the aircraft by each of its spots, and the things of the room. */
function movable(numbers) {
  const spots = new Set((numbers.spots ?? []).map((one) => one.name));
  const names = [...new Set((numbers.place ?? []).map((one) => one.moves).filter(Boolean))];
  const words = (name) => (spots.has(name) ? `the aircraft, on ${name}` : name);
  return names.map((name) => ({ name, words: words(name) })).sort((one, other) => spots.has(other.name) - spots.has(one.name));
}

/** Starts this part of the page; raises Refused where the server does not take it. */
export async function startLive(aside, shop, base, asked) {
  return new Live(aside, shop, { base, asked, numbers: await got(`${base}numbers`) });
}
