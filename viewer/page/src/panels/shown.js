/** Parts, things and marks: shown, see-through, hidden. */
import { button, fold, made, tick } from "../dom.js";
import { withName } from "../store.js";

const LAYERS = [
  ["room", "the room"], ["figure 0", "standing person"], ["figure 1", "car-sized box"], ["leaders", "least clearances"], ["heights", "heights over the floor"],
  ["marks", "floor marks"], ["swept", "swept floor of the way out"], ["edges", "edges as lines"],
];
const STATES = [["●", "shown"], ["◐", "see-through"], ["○", "hidden"]];

export function shown(shop) {
  const layers = made("div", { class: "ticks-list" });
  const parts = made("div", { class: "list" });
  const things = made("div", { class: "list" });
  const all = made("div", { class: "row" }, ...STATES.map(([mark, words], k) => button(`${mark} all parts ${words}`, () => every(shop, k))));
  const element = fold("Shown and hidden", false, layers, made("h3", {}, "Parts"), all, parts, made("h3", { class: "things" }, "Room"), things);

  function show(state) {
    layers.replaceChildren(...LAYERS.map(([key, words]) => tick(words, state.show[key], (yes) => shop.store.set({ show: { ...shop.store.get().show, [key]: yes } }))));
    const focused = document.activeElement?.dataset?.row;
    parts.replaceChildren(...(shop.look.stage(state.stage)?.parts ?? []).map((one) => row(shop, "part", one, state)));
    things.replaceChildren(...(shop.look.room?.things ?? []).map((one) => row(shop, "thing", one, state)));
    if (focused) element.querySelector(`[data-row="${CSS.escape(focused)}"]`)?.focus();
  }
  return { element, show, keys: ["stage", "hidden", "faint", "chosen"] };
}

function at(state, name) {
  return state.hidden.has(name) ? 2 : state.faint.has(name) ? 1 : 0;
}

function set(shop, names, k) {
  let { hidden, faint } = shop.store.get();
  for (const name of names) {
    hidden = withName(hidden, name, k === 2);
    faint = withName(faint, name, k === 1);
  }
  shop.store.set({ hidden, faint });
}

function every(shop, k) {
  const stage = shop.look.stage(shop.store.get().stage);
  set(shop, stage.parts.map((one) => one.name), k);
}

function row(shop, kind, { name, colour }, state) {
  const k = at(state, name);
  const [mark, words] = STATES[k];
  const next = STATES[(k + 1) % 3][1];
  const turn = button(`${mark} ${words}`, () => set(shop, [name], (k + 1) % 3), { class: "state", "data-row": `state ${kind} ${name}`, "aria-label": `${name} is ${words}; press for ${next}` });
  const own = state.chosen?.kind === kind && state.chosen.name === name;
  const take = button("", () => shop.store.set({ chosen: own ? null : { kind, name } }), { class: "name", "aria-pressed": String(own), "data-row": `name ${kind} ${name}` });
  take.append(made("i", { class: "swatch", style: { background: /^#[0-9a-f]{6}$/i.test(colour) ? colour : "#888" } }), name);
  return made("div", { class: "one" }, take, turn);
}
