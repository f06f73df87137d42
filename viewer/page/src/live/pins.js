/** The values that are at hand at first: what moves a tip, a height or a door most. */

/** Ends of paths, in the order in which they are put at hand, and how many of each at the most. */
const FIRST = [
  ["design", /^winglets\..*\.cant$/, 2],
  ["design", /^winglets\..*\.length$/, 1],
  ["design", /^stances\..*\.heights\./, 2],
  ["place", /^doors\[\d+\]\.clear_height$/, 1],
  ["place", /^doors\[\d+\]\.clear_width$/, 1],
  ["place", /^spots\[\d+\]\.heading$/, 1],
];

/** What stands in for them where a design has no winglet: the outermost butt line, the chords. */
const ELSE = [["design", /^lifting\..*\.cuts\[\d+\]\.bl$/, 2], ["design", /^lifting\..*\.chord$/, 2]];

/** Fewer than this, and others are put at hand too. */
const FEW = 3;

/**
 * Keys (`file:path`) of the values to have at hand at first.
 * @param {{whose: string, path: string}[]} numbers
 */
export function firstPins(numbers) {
  const found = picked(numbers, FIRST);
  return found.length >= FEW ? found : [...found, ...picked(numbers, ELSE)];
}

function picked(numbers, rules) {
  return rules.flatMap(([file, path, most]) =>
    numbers.filter((one) => one.whose === file && path.test(one.path)).slice(0, most)
      .map((one) => `${one.whose}:${one.path}`));
}
