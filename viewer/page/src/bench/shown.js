/** What was decided, shown: a word on its ground, why, how it stands and which shim. */
import { made } from "../dom.js";
import { fineWords, offWords } from "./words.js";

const KEYS = { GO: "go", STOP: "stop", "measure again": "again" };

function word(text) {
  return made("b", { class: `word ${KEYS[text] ?? "none"}` }, text || "open");
}

/** A reading's answer under its boxes. */
export function shownRow(row, answer, wrong, system) {
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
  if (answer.off === null) return;
  const off = offWords(answer.off, row.kind, system);
  place.append(made("p", { class: "answer" }, word(answer.word), `${off}; ${answer.why}`));
}

/** What all readings come to, in the bar that stays in sight. */
export function shownVerdict(place, decided, wrong) {
  const why = wrong ? `a box is not read; ${decided.why}` : decided.why;
  const held = wrong && decided.word === "GO" ? "measure again" : decided.word;
  place.replaceChildren(word(held), made("span", { class: "why" }, why));
}

/** The checks, how the part stands, and how thick a shim at each bolt would bring it there. */
export function shownFound(place, card, decided) {
  const read = decided.checks.map((one, k) => [card.checks[k], one]).filter(([, one]) => one.off !== null);
  const { system } = card;
  place.replaceChildren();
  if (read.length) {
    const rows = read.map(([check, one]) => [
      check.name, fineWords(one.off, check.kind, system), fineWords(one.half, check.kind, system),
      check.limit === null ? "none" : fineWords(check.limit, check.kind, system), word(one.word),
    ]);
    place.append(made("h2", {}, "Against the limits"), table(["", "off by", "within ±", "limit ±", ""], rows, "checked"));
  }
  const turns = decided.turns.map((one) => [one.name, fineWords(one.by, one.kind, system), fineWords(one.half, one.kind, system)]);
  if (turns.length) {
    place.append(made("h2", {}, "How it stands"), table(["", "found", "known to ±"], turns, "turns"));
    place.append(made("p", { class: "soft" }, "From all readings together, with all they tell well; 95 of 100 cases. This decides nothing."));
  }
  if (turns.length && decided.shims.length) {
    const thick = decided.shims.map((one) => [one.name, fineWords(one.by, "length", system)]);
    place.append(made("h2", {}, "Shims that take it out"), table(["at", "thick"], thick, "thick"));
    place.append(...card.lost.map((line) => made("p", { class: "soft" }, line)));
  }
}

function table(heads, rows, kind) {
  const head = heads.map((text, k) => made(text ? "th" : "td", { class: k ? "n" : "" }, text));
  const body = rows.map((cells) => made("tr", {}, ...cells.map((text, k) => made("td", { class: k ? "n" : "" }, text))));
  return made("table", { class: kind }, made("thead", {}, made("tr", {}, ...head)), made("tbody", {}, ...body));
}
