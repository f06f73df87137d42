/**
 * The strip: what changed against the files. A number is shown as new only where it is worked out
 * for what is asked now; one from before says so, and after a moment makes room for words.
 */
import { made, say, settled } from "./made.js";

export const WORKING = "being worked out";

/** Rows that are shown where there is little room. */
const FIRST = ["tip_height", "width", "least_gap", "verdict"];

/** Short words of rows; their own words are told beside. */
const SHORT = {
  room: "in the room", least_gap: "least gap", cg: "CG, empty", margin: "static margin", drag: "drag area",
};

/** How long a number from before stands there, marked as such [ms]. */
export const LINGERS = 400;
/** How long the numbers stand still before they are read out [ms]. */
const QUIET = 900;

export class Strip {
  constructor() {
    this.rows = new Map();
    this.body = made("tbody");
    this.spoken = made("p", { class: "unseen", "aria-live": "polite" });
    this.head = made("tr", {});
    const table = made("table", {}, made("caption", { class: "unseen" }, "What changed"), made("thead", {}, this.head), this.body);
    this.more = made("button", { type: "button", class: "quiet", "aria-expanded": "false" }, "all figures");
    this.more.addEventListener("click", () => this.#whole());
    this.element = made("section", { class: "strip", "aria-label": "what changed" }, table, this.more, this.spoken);
    this.speak = settled(QUIET, () => this.#speak());
    this.late = settled(LINGERS, () => this.#late());
    this.held = null;
    this.#headed();
  }

  /** A new question is out: every number is one from before. */
  asked() {
    const first = [...this.rows.values()].every((row) => !row.old);
    for (const row of this.rows.values()) row.old = true;
    this.#draw();
    if (first) this.late();
  }

  /** Takes rows that are worked out, for what is asked now or for what was asked a moment ago. */
  take(rows, newest) {
    for (const row of rows) this.rows.set(row.key, { ...row, old: !newest, late: false });
    if (!newest) this.late();
    this.#draw();
    this.speak();
  }

  /** The question was not answered: the numbers are from before, and are not being worked out. */
  stopped() {
    for (const row of this.rows.values()) row.stopped = row.old;
    this.#draw();
  }

  /** The rows as they are, by key. */
  kept() {
    return new Map([...this.rows].map(([key, row]) => [key, { ...row }]));
  }

  /** Shows the rows of a variant that is held beside, or none where null. */
  beside(rows) {
    this.held = rows;
    this.#headed();
    this.#draw();
  }

  /** Shows all rows where only the first are shown, or those again. */
  #whole() {
    const whole = this.element.classList.toggle("whole");
    this.more.setAttribute("aria-expanded", String(whole));
    say(this.more, whole ? "fewer figures" : "all figures");
  }

  #headed() {
    this.columns = this.held ? ["files", "held", "now"] : ["files", "now", "change"];
    const names = this.columns.map((name) => made("th", { scope: "col", "data-of": name }, name));
    this.head.replaceChildren(made("td"), ...names);
    this.body.replaceChildren();
  }

  #late() {
    for (const row of this.rows.values()) if (row.old) row.late = true;
    this.#draw();
  }

  #draw() {
    for (const row of this.rows.values()) this.#drawn(row);
  }

  #drawn(row) {
    let line = [...this.body.children].find((one) => one.dataset.key === row.key);
    if (!line) {
      const cells = this.columns.map((name) => made("td", { "data-of": name }));
      const words = made("th", { scope: "row", title: row.what }, SHORT[row.key] ?? row.what);
      line = made("tr", { "data-key": row.key, class: FIRST.includes(row.key) ? "first" : "later" }, words, ...cells);
      this.body.append(line);
    }
    const [, ...cells] = line.children;
    for (const cell of cells) this.#cell(cell, row);
    line.classList.toggle("changed", !row.old && Boolean(row.change));
  }

  #cell(cell, row) {
    const { of } = cell.dataset;
    if (of === "files") say(cell, row.base ?? "");
    else if (of === "held") say(cell, heldText(this.held.get(row.key)));
    else if (of === "now") shown(cell, row);
    else say(cell, row.old ? "" : row.change ?? "");
  }

  #speak() {
    const known = [...this.rows.values()].filter((row) => !row.old);
    const told = known.filter((row) => row.change).map((row) => `${row.what} ${row.now}, ${row.change}`);
    say(this.spoken, told.join("; ") || (known.length ? "nothing differs from the files" : ""));
  }
}

/** Writes the number of now, or what stands there until it is worked out. */
function shown(cell, row) {
  const before = row.old && (row.stopped || !row.late);
  say(cell, row.old && !before ? WORKING : row.now ?? "");
  cell.classList.toggle("before", before);
  cell.classList.toggle("working", row.old && !before);
  cell.setAttribute("aria-busy", String(Boolean(row.old && !row.stopped)));
}

function heldText(row) {
  if (!row) return "";
  return row.old ? WORKING : row.now ?? "";
}
