/**
 * The rigging card at the bench: what is typed is read as builders write it, and GO, STOP or
 * measure again is said at once. Nothing is kept and nothing is sent.
 */
import { decide } from "./bench/decide.js";
import { Boxes } from "./bench/boxes.js";
import { Notation } from "./bench/notation.js";
import { shownFound, shownRow, shownVerdict } from "./bench/shown.js";
import { Taken } from "./bench/taken.js";
import { made, tick } from "./dom.js";

const look = JSON.parse(document.getElementById("look").textContent);

function start() {
  const notation = new Notation(look.units);
  const boxes = new Boxes(look, notation, changed);
  const verdict = made("div", { id: "verdict", role: "status", "aria-live": "polite" });
  const units = look.unit === "in" ? "inches" : look.unit;
  const mine = tick(`a number without its unit is in ${units}, of a level in degrees`, false, (yes) => boxes.take(yes));
  document.getElementById("top").replaceWith(mine, verdict);
  const taken = new Taken(look, document.getElementById("taken"));
  window.addEventListener("beforeunload", (event) => {
    if (boxes.typed() && !taken.given) event.preventDefault();
  });

  function changed() {
    const found = decide(look, boxes.values());
    look.rows.forEach((row, k) => shownRow(row, found.rows[k], boxes.wrong(k), look.system));
    shownVerdict(verdict, found, boxes.anyWrong());
    shownFound(document.getElementById("found"), look, found);
    taken.show(boxes.texts());
  }
  changed();
}

globalThis.bench = { decide: (values) => decide(look, values), read: (text, kind) => new Notation(look.units).read(text, kind) };
start();
