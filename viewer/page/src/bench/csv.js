/** The readings as the survey takes them: comma-separated values, a line each. */

const VALUE = /^[+-](?:\d+'-)?\d[\d ./]*(?:["']| ?[A-Za-z%°][A-Za-z0-9 %°]*)?$/;

/** A cell; a text that a spreadsheet would work out gets a mark before it. */
function cell(text) {
  const runs = /^[=+@\t\r-]/.test(text) && !VALUE.test(text);
  const inert = runs ? `'${text}` : text;
  return /[",\n\r]/.test(inert) ? `"${inert.replace(/"/g, '""')}"` : inert;
}

/**
 * The whole text.
 * @param {{head: string[], comments: string[]}} form
 * @param {Object<string, string>[]} rows cells by the names of their columns
 */
export function csvText(form, rows) {
  const lines = [form.head, ...rows.map((row) => form.head.map((name) => row[name] ?? ""))];
  return [...form.comments.map((line) => `# ${line}`), ...lines.map((cells) => cells.map(cell).join(","))].join("\n") + "\n";
}

/** Today as it stands in a file: 2026-01-31. */
export function today(now = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
