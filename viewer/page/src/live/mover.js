/** Moves what stands on the floor by buttons and keys: the aircraft, and the things of the room. */
import { button, freshId, made, say } from "./made.js";

const STEPS = { "ft-in": [["1 in", 0.0254], ["6 in", 0.1524], ["1 ft", 0.3048]], mm: [["10 mm", 0.01], ["100 mm", 0.1], ["500 mm", 0.5]] };
const DEGREE = Math.PI / 180;

/** What each button and key does: along X, along Y, about the vertical, clockwise from above. */
const MOVES = [
  ["left", "ArrowLeft", [-1, 0, 0]],
  ["away from the front wall", "ArrowUp", [0, 1, 0]],
  ["to the front wall", "ArrowDown", [0, -1, 0]],
  ["right", "ArrowRight", [1, 0, 0]],
  ["turn to the left", ",", [0, 0, -1]],
  ["turn to the right", ".", [0, 0, 1]],
];
const SIGNS = ["←", "↑", "↓", "→", "↺", "↻"];

export class Mover {
  /** @param {function({name: string, dx: number, dy: number, turn: number, done: boolean})} move */
  constructor(move) {
    this.move = move;
    this.what = made("select", { id: freshId("move") });
    this.step = made("select", { id: freshId("step") });
    this.gaps = made("ol", { class: "leasts", "aria-label": "least clearances" });
    const pad = MOVES.map(([words, , by], k) => button(SIGNS[k], () => this.#by(by), { "aria-label": words, title: words }));
    const keys = made("div", { class: "pad", role: "group", "aria-label": "move; with the arrow keys, comma and full stop turn" }, ...pad);
    keys.addEventListener("keydown", (event) => this.#key(event));
    this.element = made("section", { class: "mover", "aria-label": "moved on the floor" },
      made("div", { class: "asked" }, made("label", { for: this.what.id }, "Move"), this.what),
      made("div", { class: "asked" }, made("label", { for: this.step.id }, "by"), this.step), keys, this.gaps);
  }

  /** Takes the names of what can be moved, the aircraft first, and the units of the place. */
  take(names, system) {
    this.element.hidden = !names.length;
    const had = this.what.value;
    this.what.replaceChildren(...names.map(({ name, words }) => made("option", { value: name }, words)));
    if (names.some(({ name }) => name === had)) this.what.value = had;
    const steps = STEPS[system === "mm" || system === "m" ? "mm" : "ft-in"];
    this.step.replaceChildren(...steps.map(([words, size]) => made("option", { value: size }, words)));
  }

  /** Shows the least clearances of where it stands; words in their place where there are none. */
  clearances(leaders, words) {
    const lines = leaders.map((one) => made("li", {}, `${one.text}: ${one.part} to ${one.thing}`));
    this.gaps.replaceChildren(...(lines.length ? lines : [made("li", {}, words)]));
  }

  /** The clearances are those of before. */
  before() {
    this.gaps.classList.add("before");
  }

  /** The clearances are those of now. */
  now() {
    this.gaps.classList.remove("before");
  }

  #key(event) {
    const move = MOVES.find(([, key]) => key === event.key);
    if (!move || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    this.#by(move[2]);
  }

  #by([x, y, turn]) {
    const step = Number(this.step.value);
    this.move({ name: this.what.value, dx: x * step, dy: y * step, turn: turn * DEGREE, done: true });
  }
}
