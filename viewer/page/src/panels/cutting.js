/** The aircraft cut open: where, the outlines drawn, the area within each. */
import { choice, fold, made, tick } from "../dom.js";
import { AXES, hatchStep } from "../section.js";
import { hatching } from "../cut.js";
import { area, butt, inches, length, station, water } from "../units.js";

const SAID = { station, butt, water, height: length };
const INCH = 0.0254;

export function cutting(shop) {
  const [label, list] = choice("cut open", [["none", "not cut"], ...Object.entries(AXES).map(([key, one]) => [key, one.words])], (axis) => pick(shop, axis));
  const bar = made("input", { type: "range", "aria-label": "Where it is cut", oninput: () => move(shop, Number(bar.value)) });
  const exact = made("input", { type: "number", step: "any", onchange: () => move(shop, Number(exact.value) * unitOf(shop)) });
  const unit = made("span", {});
  const where = made("output", {});
  const other = tick("show the other side", false, (yes) => shop.store.set({ section: { ...shop.store.get().section, other: yes } }));
  const drawn = made("div", { class: "drawn" });
  const found = made("div", {});
  const rest = made("div", { class: "rest" }, made("div", { class: "row" }, bar, where), made("label", { class: "exact" }, "exactly ", exact, " ", unit), other, drawn, found);
  const element = fold("Cut open", false, label, rest);
  const own = { list, bar, exact, unit, where, drawn, found };

  function show(state) {
    const { axis, at } = state.section;
    list.value = AXES[axis] ? axis : "none";
    rest.hidden = !AXES[axis];
    if (!AXES[axis]) return;
    element.open = true;
    if (at === null) return pick(shop, axis);
    fill(shop, own, axis, at, state.units);
  }
  return { element, show, keys: ["section", "stage", "hidden", "units"] };
}

function unitOf(shop) {
  return inches(shop.store.get().units) ? INCH : 0.001;
}

function pick(shop, axis) {
  if (!AXES[axis]) return shop.store.set({ section: { axis: "none", at: null } });
  const [low, high] = shop.section.reach(axis);
  const at = axis === "butt" ? Math.min(high, Math.max(low, 0)) : (low + high) / 2;
  return shop.store.set({ section: { axis, at, other: false } });
}

function move(shop, at) {
  if (Number.isFinite(at)) shop.store.set({ section: { ...shop.store.get().section, at } });
}

function fill(shop, { bar, exact, unit, where, drawn, found }, axis, at, units) {
  const [low, high] = shop.section.reach(axis);
  Object.assign(bar, { min: String(low), max: String(high), step: String((high - low) / 2000 || 0.001) });
  bar.value = String(at);
  where.textContent = SAID[axis](at, units);
  bar.setAttribute("aria-valuetext", where.textContent);
  if (document.activeElement !== exact) exact.value = String(Math.round((at / unitOf(shop)) * 1000) / 1000);
  unit.textContent = inches(units) ? "in" : "mm";
  const cuts = shop.section.cuts();
  drawn.replaceChildren(...(cuts.length ? [drawing(cuts, axis)] : []));
  const rows = cuts.map((one) => made("tr", {}, made("th", { scope: "row" }, one.part.name), made("td", { class: "n" }, area(one.area, units))));
  found.replaceChildren(rows.length
    ? made("table", {}, made("caption", {}, "what is cut, and the area within each outline"), made("tbody", {}, ...rows))
    : made("p", { class: "soft" }, "Nothing is cut here."));
}

const SVG = "http://www.w3.org/2000/svg";

/** The outlines flat on paper: seen from ahead, from the left or from above, the right wing up. */
function drawing(cuts, axis) {
  const flat = axis === "station" ? ([u, v]) => [-u, -v] : axis === "butt" ? ([u, v]) => [u, -v] : ([u, v]) => [u, -v];
  const all = cuts.flatMap(({ pieces }) => pieces.flat().map(flat));
  const [xs, ys] = [all.map((p) => p[0]), all.map((p) => p[1])];
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [wide, high] = [Math.max(...xs) - left || 0.01, Math.max(...ys) - top || 0.01];
  const edge = 0.02 * Math.max(wide, high);
  const out = document.createElementNS(SVG, "svg");
  out.setAttribute("viewBox", [left - edge, top - edge, wide + 2 * edge, high + 2 * edge].join(" "));
  out.setAttribute("role", "img");
  out.setAttribute("aria-label", `outlines of ${cuts.map((one) => one.part.name).join(", ")}`);
  const apart = hatchStep(cuts);
  for (const { pieces } of cuts) {
    out.append(path(hatching(pieces, apart), flat, "#8a7622", 0.6), path(pieces, flat, "#1f3f4a", 1.6));
  }
  return out;
}

function path(pairs, flat, stroke, weight) {
  const out = document.createElementNS(SVG, "path");
  const at = (point) => flat(point).map((one) => one.toFixed(4)).join(" ");
  out.setAttribute("d", pairs.map(([a, b]) => `M${at(a)}L${at(b)}`).join(""));
  for (const [name, value] of Object.entries({ stroke, "stroke-width": weight, fill: "none", "vector-effect": "non-scaling-stroke" })) out.setAttribute(name, value);
  return out;
}
