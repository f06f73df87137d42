/** What was decided, shown: a word on its ground, why, what was found and which shim. */
import { made } from "../dom.js";

const KEYS = { GO: "go", STOP: "stop", "measure again": "again" };

function word(text) {
  return made("b", { class: `word ${KEYS[text] ?? "none"}` }, text || "not read");
}

/** A reading's answer under its boxes. */
export function shownRow(row, answer, wrong) {
  const place = document.getElementById(`r${row.number}`);
  place.querySelectorAll(".answer, .error").forEach((one) => one.remove());
  wrong.forEach((words, k) => {
    const input = document.getElementById(`r${row.number}${"ab"[k]}`);
    const id = `${input.id}-error`;
    input.setAttribute("aria-invalid", String(Boolean(words)));
    if (words) {
      input.setAttribute("aria-describedby", id);
      place.append(made("p", { class: "error", id }, words));
    } else input.removeAttribute("aria-describedby");
  });
  if (answer.word || answer.why) place.append(made("p", { class: "answer" }, word(answer.word), answer.why));
}

/** What all readings come to, in the bar that stays in sight. */
export function shownVerdict(place, found, wrong) {
  const why = wrong ? `a box is not read; ${found.why}` : found.why;
  place.replaceChildren(word(wrong && found.word === "GO" ? "measure again" : found.word), made("span", { class: "why" }, why));
}

/** How the part stands, and how thick a shim at each bolt would bring it to its target. */
export function shownFound(place, found) {
  place.replaceChildren();
  if (!found.turns.length) return;
  place.append(
    made("h2", {}, "How it stands"),
    table(["", "found", "known to"], found.turns.map((one) => [one.name, one.by, one.half]), "turns"),
    ...found.notes.map((line) => made("p", {}, line)),
  );
  if (found.shims.length) {
    place.append(
      made("h3", {}, "Shims that would bring it to its target"),
      table(["at", "thick"], found.shims.map((one) => [one.name, one.by]), "shims"),
    );
  }
}

function table(heads, rows, kind) {
  const head = heads.map((text, k) => made(text ? "th" : "td", { class: k ? "n" : "" }, text));
  const body = rows.map((cells) => made("tr", {}, ...cells.map((text, k) => made("td", { class: k ? "n" : "" }, text))));
  return made("table", { class: kind }, made("thead", {}, made("tr", {}, ...head)), made("tbody", {}, ...body));
}
