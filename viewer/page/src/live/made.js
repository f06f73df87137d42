/** Elements made of words: texts of a file go in as text and never as markup. */

let count = 0;

/**
 * An element with its attributes and what stands in it.
 * @param {string} tag
 * @param {Object<string, *>} [given] attributes; `on` holds handlers; null and false are left out
 * @param {...(Node|string)} inside
 * @returns {HTMLElement}
 */
export function made(tag, given = {}, ...inside) {
  const one = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (name === "on") listen(one, value);
    else if (value === true) one.setAttribute(name, "");
    else if (value !== null && value !== undefined && value !== false) one.setAttribute(name, value);
  }
  one.append(...inside);
  return one;
}

/** Handlers of an element, by the name of the event. */
function listen(one, handlers) {
  for (const [event, handler] of Object.entries(handlers)) one.addEventListener(event, handler);
}

/** An id that no other element of the page has. */
export function freshId(stem) {
  count += 1;
  return `${stem}-${count}`;
}

/** Writes a text where it differs from the one there, so that nothing is read out twice. */
export function say(one, text) {
  if (one.textContent !== text) one.textContent = text;
}

/** A button with words on it. */
export function button(words, press, given = {}) {
  return made("button", { type: "button", ...given, on: { click: press } }, words);
}

/** Calls at most once in so many milliseconds after the last call. */
export function settled(wait, call) {
  let timer = 0;
  return (...given) => {
    clearTimeout(timer);
    timer = setTimeout(() => call(...given), wait);
  };
}
