/** What the page says where something outside of it happened. */

/** The server is gone for good. */
export function endedWords(command, told) {
  return [
    told || "planform explore has ended.",
    "Your values are in the address of this page, from the # on.",
    `Start it again with “${command}”, and put the # and what follows behind its new address.`,
  ];
}

export const BROKEN = ["planform explore gives no answer just now; it is tried again. Nothing of yours is lost."];

/** A file was changed on disk and read. */
export function takenUpWords(changed, files) {
  const names = changed.map((file) => nameOf(files[file] ?? file)).join(" and ");
  return [`${names || "A file"} was changed on disk and is taken up here.`];
}

/** A file was changed on disk, and cannot be read. */
export function unreadWords(problems, files) {
  const names = [...new Set(problems.map((one) => nameOf(files[one.file] ?? one.file ?? "")))].filter(Boolean);
  const name = names.join(" and ") || "The file";
  const gone = problems.every((one) => String(one.words ?? "").includes("no such file"));
  const head = gone ? `${name} is gone from the disk; what is shown is the last that was there.`
    : `${name} on disk has a mistake; what is shown is the last that had none.`;
  return [head, ...problems.map(sentence)];
}

/** Values that were changed here and that the file no longer has. */
export function gonePaths(paths) {
  return [`No longer in the file, and left out here: ${paths.join(", ")}.`];
}

/** One mistake: where, and the words of it. */
export function sentence(problem) {
  const words = String(problem.words ?? "");
  return words.startsWith(problem.path) || !problem.path ? words : `${problem.path}: ${words}`;
}

/** The last part of a path. */
export function nameOf(path) {
  return String(path).split(/[\\/]/).pop();
}
