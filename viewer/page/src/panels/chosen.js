/** The part or thing that was chosen: what is known of it. */
import { button, choice, made, pairs } from "../dom.js";

export function chosen(shop) {
  const [label, list] = choice("part or thing", [], (text) => shop.store.set({ chosen: text ? { kind: text.split(" ")[0], name: text.slice(text.indexOf(" ") + 1) } : null }));
  const told = made("div", { "aria-live": "polite" });
  const element = made("section", { class: "panel chosen", "aria-labelledby": "h-chosen" }, made("h2", { id: "h-chosen" }, "Chosen"), label, told);

  function show(state) {
    const stage = shop.look.stage(state.stage);
    const names = [...(stage?.parts ?? []).map((one) => `part ${one.name}`), ...(shop.look.room?.things ?? []).map((one) => `thing ${one.name}`)];
    if (list.dataset.names !== JSON.stringify(names)) list.replaceChildren(made("option", { value: "" }, "none; tap one in the picture"), ...names.map((text) => made("option", { value: text }, text.slice(text.indexOf(" ") + 1))));
    list.dataset.names = JSON.stringify(names);
    const { kind, name } = state.chosen ?? {};
    list.value = state.chosen && names.includes(`${kind} ${name}`) ? `${kind} ${name}` : "";
    const found = (kind === "part" ? stage?.parts : shop.look.room?.things)?.find((one) => one.name === name);
    told.replaceChildren(...(found ? [kind === "part" ? part(shop, found) : thing(found, stage), away(shop, name)] : state.chosen ? [made("p", { class: "soft" }, `${name} is not there at this stage.`)] : []));
  }
  return { element, show, keys: ["stage", "chosen", "hidden"] };
}

function away(shop, name) {
  const hidden = shop.store.get().hidden.has(name);
  const press = () => {
    const names = new Set(shop.store.get().hidden);
    if (hidden) names.delete(name);
    else names.add(name);
    shop.store.set({ hidden: names });
  };
  return button(hidden ? "show it again" : "hide it", press, { class: "quiet" });
}

function part(shop, one) {
  const rows = [["it is", `${one.role}${one.group && one.group !== one.role ? ` of ${one.group}` : ""}`], ...one.sizes];
  if (one.mass) rows.push(["mass", one.mass]);
  if (one.least) rows.push(["least clearance", `${one.least.text} to ${one.least.thing}${one.least.direction ? `, ${one.least.direction}` : ""}`]);
  else if (shop.look.place) rows.push(["least clearance", "not known here"]);
  return pairs(rows);
}

function thing(one, stage) {
  const rows = [["it is", one.told]];
  const near = (stage?.leaders ?? []).find((gap) => gap.thing === one.name);
  if (near) rows.push(["least clearance", `${near.text} to ${near.part}${near.tolerance ? ` ${near.tolerance}` : ""}`]);
  return pairs(rows);
}
