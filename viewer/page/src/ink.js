/**
 * What is drawn over the picture with a pen: leaders, dimension lines, outlines, words on plates.
 *
 * A stroke is {points: [[x, y, z]...], pairs, colour, weight, dash, ends, text, strong, at}, in
 * place axes; `pairs`: every two points are a line; `ends`: "dots", "bars" or "cross".
 */

const PAPER = "#fbfaf6";

/** Draws strokes, words last and off each other. */
export function inked(pen, hall, strokes) {
  const seen = strokes.map((one) => ({ ...one, flat: flattened(one, hall) }));
  for (const one of seen) line(pen, one);
  const taken = [];
  for (const one of seen) if (one.text) word(pen, one, hall.size, taken);
}

/** The points in the picture; those behind the eye are null. */
function flattened({ points }, hall) {
  return points.map((one) => hall.project(one)).map(([x, y, depth]) => (depth > 1 ? null : [x, y]));
}

function line(pen, { flat, pairs, colour = "#b3361b", weight = 2, dash = [], ends }) {
  pen.strokeStyle = pen.fillStyle = colour;
  pen.lineJoin = pen.lineCap = "round";
  pen.setLineDash(dash);
  pen.lineWidth = weight;
  pen.beginPath();
  for (let k = 1; k < flat.length; k += pairs ? 2 : 1) {
    if (!flat[k] || !flat[k - 1]) continue;
    pen.moveTo(...flat[k - 1]);
    pen.lineTo(...flat[k]);
  }
  pen.stroke();
  pen.setLineDash([]);
  if (ends) for (const one of flat) if (one) END[ends](pen, one, flat);
}

const END = {
  dots: (pen, [x, y]) => {
    pen.beginPath();
    pen.arc(x, y, 3.6, 0, 7);
    pen.fill();
  },
  cross: (pen, [x, y]) => {
    pen.lineWidth = 2.2;
    pen.beginPath();
    for (const [dx, dy] of [[6, 6], [6, -6]]) {
      pen.moveTo(x - dx, y - dy);
      pen.lineTo(x + dx, y + dy);
    }
    pen.stroke();
  },
  bars: (pen, [x, y], flat) => {
    const [first, last] = [flat[0], flat[flat.length - 1]];
    if (!first || !last) return;
    const long = Math.hypot(last[0] - first[0], last[1] - first[1]) || 1;
    const [dx, dy] = [(-(last[1] - first[1]) / long) * 6, ((last[0] - first[0]) / long) * 6];
    pen.lineWidth = 2;
    pen.beginPath();
    pen.moveTo(x - dx, y - dy);
    pen.lineTo(x + dx, y + dy);
    pen.stroke();
  },
};

/** Words on a plate beside their line, where they hide least. */
function word(pen, { flat, text, colour = "#b3361b", strong }, [wide, high], taken) {
  const known = flat.filter(Boolean);
  if (!known.length) return;
  const middle = [0, 1].map((k) => (known[0][k] + known[known.length - 1][k]) / 2);
  if (middle[0] < -20 || middle[1] < -20 || middle[0] > wide + 20 || middle[1] > high + 20) return;
  const letter = strong ? 13 : 12;
  pen.font = `${strong ? "700 " : ""}${letter}px "DejaVu Sans", Verdana, sans-serif`;
  const [w, h] = [pen.measureText(text).width + 12, letter + 9];
  const [x, y] = freest(middle, [w, h], [wide, high], taken);
  taken.push([x, y, w, h]);
  pen.lineWidth = 1.2;
  pen.strokeStyle = colour;
  if (Math.hypot(x + w / 2 - middle[0], y + h / 2 - middle[1]) > 40) {
    pen.beginPath();
    pen.moveTo(...middle);
    pen.lineTo(Math.min(Math.max(middle[0], x), x + w), Math.min(Math.max(middle[1], y), y + h));
    pen.stroke();
  }
  pen.fillStyle = PAPER;
  pen.fillRect(x, y, w, h);
  pen.lineWidth = strong ? 1.6 : 0.8;
  pen.strokeRect(x, y, w, h);
  pen.fillStyle = colour;
  pen.textBaseline = "middle";
  pen.textAlign = "left";
  pen.fillText(text, x + 6, y + h / 2 + 0.5);
}

/** Upper left corner of a plate near a point that overlaps the others least. */
function freest([x, y], [w, h], [wide, high], taken) {
  let best = null;
  for (let k = 0; k < 24; k += 1) {
    const turn = (k % 8) * (Math.PI / 4) - Math.PI / 2;
    const far = 10 + 16 * Math.floor(k / 8);
    const [dx, dy] = [Math.cos(turn), Math.sin(turn)];
    const left = Math.min(Math.max(x + dx * (far + w / 2) - w / 2, 3), Math.max(3, wide - w - 3));
    const top = Math.min(Math.max(y + dy * (far + h / 2) - h / 2, 3), Math.max(3, high - h - 3));
    const cost = k + taken.reduce((sum, one) => sum + overlap([left, top, w, h], one), 0);
    if (!best || cost < best[0]) best = [cost, left, top];
  }
  return best.slice(1);
}

function overlap(a, b) {
  const wide = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const high = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  return Math.max(0, wide) * Math.max(0, high);
}
