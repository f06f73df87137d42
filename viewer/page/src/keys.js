/** The picture by keys, while it has the focus. */
import { viewsOf } from "./views.js";

const TURN = Math.PI / 24;
const STEP = 0.0254;

export const KEYS = [
  ["arrow keys", "turn the picture; inside the room: look about"],
  ["Shift and arrow keys", "shift it; inside the room: walk"],
  ["+ and −", "nearer, farther; inside the room: a step ahead, a step back"],
  ["1 to 9", "the views, in the order of their buttons"],
  ["page up, page down", "the stage before, the next stage"],
  ["W", "play the way out, or hold it"],
  [", and .", "back and on along the way out"],
  ["M", "measure: taps take points"],
  ["Esc", "let go: of points, of what is chosen"],
  ["Alt and arrow keys", "where values can be moved: shift what is chosen by 1 in, with Ctrl turn it by 1 degree"],
];

/** Has a focused picture listen to keys. */
export function keysOn(box, shop) {
  box.addEventListener("keydown", (event) => {
    if (event.target !== box) return;
    if (handled(event, shop)) event.preventDefault();
  });
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

function handled(event, shop) {
  const arrow = ARROWS[event.key];
  if (arrow) return arrowed(event, arrow, shop);
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  const call = PLAIN[event.key.toLowerCase()];
  if (call) call(shop);
  else if (/^[1-9]$/.test(event.key)) numbered(Number(event.key) - 1, shop);
  else return false;
  return true;
}

function arrowed(event, [right, up], shop) {
  if (event.altKey) {
    const turn = event.ctrlKey ? (right * Math.PI) / 180 : 0;
    shop.mover.nudge(turn ? 0 : right * STEP, turn ? 0 : up * STEP, turn);
  } else if (event.shiftKey) shop.views.shift(right * 0.06, up * 0.06 * (shop.views.walker.on ? 6 : 1));
  else shop.views.turn((shop.views.walker.on ? -1 : 1) * right * TURN, up * TURN);
  return true;
}

const PLAIN = {
  "+": (shop) => shop.views.near(0.88),
  "=": (shop) => shop.views.near(0.88),
  "-": (shop) => shop.views.near(1.14),
  pageup: (shop) => shop.next(-1),
  pagedown: (shop) => shop.next(1),
  w: (shop) => shop.journey.play(),
  ",": (shop) => shop.journey.drag(shop.store.get().share - 0.02),
  ".": (shop) => shop.journey.drag(shop.store.get().share + 0.02),
  m: (shop) => shop.store.set({ ruler: { ...shop.store.get().ruler, on: !shop.store.get().ruler.on } }),
  escape: (shop) => {
    shop.ruler.clear();
    shop.store.set({ chosen: null });
  },
};

function numbered(k, shop) {
  const view = viewsOf(shop.look)[k];
  if (view) shop.go(view.key);
}
