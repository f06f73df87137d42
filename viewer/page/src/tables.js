/** Tables that sort by any of their columns. */
import { button, chip, made } from "./dom.js";

/** A table of a look: {title, columns, rows of {text, value, verdict}, remarks}. */
export function sortable({ title, columns, rows, remarks }) {
  const body = made("tbody", { role: "rowgroup" });
  const order = { column: -1, up: true };
  const numeric = columns.map((_, k) => rows.some((row) => typeof row[k]?.value === "number"));
  const heads = columns.map((name, k) => {
    const press = button(name, () => sort(k));
    return made("th", { scope: "col", role: "columnheader", class: numeric[k] ? "n" : "", "aria-sort": "none" }, press);
  });
  const fill = () => body.replaceChildren(...sorted(rows, order).map((row) => line(row, columns, numeric)));

  function sort(k) {
    Object.assign(order, { column: k, up: order.column === k ? !order.up : true });
    heads.forEach((one, number) => one.setAttribute("aria-sort", number !== k ? "none" : order.up ? "ascending" : "descending"));
    fill();
  }
  fill();
  const head = made("thead", { role: "rowgroup" }, made("tr", { role: "row" }, ...heads));
  const table = made("table", { role: "table", class: columns.length > 3 ? "wide" : "" }, made("caption", {}, title), head, body);
  const under = (remarks ?? []).map((text) => made("p", { class: "soft" }, text));
  return made("div", { class: "table" }, made("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": title }, table), ...under);
}

function line(row, columns, numeric) {
  return made("tr", { role: "row" }, ...row.map((cell, k) => {
    const inside = cell.verdict ? chip({ key: cell.verdict, word: cell.text }) : cell.text;
    if (k === 0) return made("th", { scope: "row", role: "rowheader" }, inside);
    const given = { role: "cell", "data-head": cell.text ? columns[k] : null };
    return made("td", { class: numeric[k] ? "n" : "", ...given }, inside);
  }));
}

/** Rows in the order of a column: by values where both have one, else by texts; empty ones last. */
export function sorted(rows, { column, up }) {
  if (column < 0) return rows;
  const sign = up ? 1 : -1;
  return [...rows].sort((a, b) => {
    const [one, other] = [a[column] ?? { text: "" }, b[column] ?? { text: "" }];
    if (!one.text !== !other.text) return one.text ? -1 : 1;
    if (typeof one.value === "number" && typeof other.value === "number") return sign * (one.value - other.value);
    return sign * one.text.localeCompare(other.text, "en", { numeric: true });
  });
}
