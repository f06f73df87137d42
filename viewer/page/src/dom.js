/** Elements of the page; texts of files only ever become text. */

/** An element with attributes (`on…` are calls) and what stands in it. */
export function made(tag, given = {}, ...inside) {
  const out = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (name === "style") Object.assign(out.style, value);
    else if (name.startsWith("on")) out.addEventListener(name.slice(2), value);
    else if (typeof value === "boolean") out.toggleAttribute(name, value);
    else if (value !== null && value !== undefined) out.setAttribute(name, String(value));
  }
  out.append(...inside.filter((one) => one !== null && one !== undefined));
  return out;
}

/** A button with words on it. */
export function button(words, press, given = {}) {
  return made("button", { type: "button", ...given, onclick: press }, words);
}

/** A button that is pressed in or not. */
export function toggle(words, press, given = {}) {
  return button(words, press, { "aria-pressed": "false", ...given });
}

export function pressed(element, yes) {
  element.setAttribute("aria-pressed", String(Boolean(yes)));
}

/** A box to be ticked, with its words. */
export function tick(words, checked, change) {
  const box = made("input", { type: "checkbox", checked, onchange: () => change(box.checked) });
  box.checked = checked;
  return made("label", { class: "tick" }, box, made("span", {}, words));
}

/** A list to choose one of: options are [value, words]. */
export function choice(label, options, change, given = {}) {
  const list = made("select", { ...given, onchange: () => change(list.value) });
  list.append(...options.map(([value, words]) => made("option", { value }, words)));
  return [made("label", { class: "choice" }, made("span", {}, label), list), list];
}

/** A part of the page that folds, with a heading. */
export function fold(title, open, ...inside) {
  return made("details", { class: "fold", open }, made("summary", {}, made("h2", {}, title)), made("div", { class: "held" }, ...inside));
}

/** Names and what belongs to them. */
export function pairs(rows) {
  return made("dl", {}, ...rows.flatMap(([name, text]) => [made("dt", {}, name), made("dd", {}, text)]));
}

/** A verdict as a word on its ground: the border tells it too, for eyes that see no colours. */
export function chip(verdict) {
  return made("b", { class: `v ${verdict.key}` }, verdict.word);
}
