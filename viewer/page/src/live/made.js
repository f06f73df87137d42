/** Elements made of words: texts of a file go in as text and never as markup. */
export { button, fold, made } from "../dom.js";

let count = 0;

/** An id that no other element of the page has. */
export function freshId(stem) {
  count += 1;
  return `${stem}-${count}`;
}

/** Writes a text where it differs from the one there, so that nothing is read out twice. */
export function say(one, text) {
  if (one.textContent !== text) one.textContent = text;
}

/** Calls at most once in so many milliseconds after the last call. */
export function settled(wait, call) {
  let timer = 0;
  return (...given) => {
    clearTimeout(timer);
    timer = setTimeout(() => call(...given), wait);
  };
}
