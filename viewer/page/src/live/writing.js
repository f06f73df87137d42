/**
 * A value in the notation of the text that it stands in: `11'-4 1/2"`, `FS 142.5 in`, `BL 10 in L`.
 *
 * A style is what a text tells of how its builder writes: what stands before and behind, the unit,
 * fractions or decimals. Values are SI.
 */

const INCH = 0.0254;
const POUND = 0.45359237;
const GALLON = 231 * INCH ** 3;
const DEGREE = Math.PI / 180;

/** SI units that one of each spelling is. */
const FACTORS = {
  in: INCH, "in.": INCH, inch: INCH, inches: INCH, '"': INCH,
  ft: 12 * INCH, "ft.": 12 * INCH, foot: 12 * INCH, feet: 12 * INCH, "'": 12 * INCH,
  m: 1, metre: 1, metres: 1, meter: 1, meters: 1, cm: 0.01, mm: 0.001,
  deg: DEGREE, "deg.": DEGREE, degree: DEGREE, degrees: DEGREE, "°": DEGREE, rad: 1,
  kg: 1, g: 0.001, lb: POUND, lbs: POUND, "lb.": POUND, pound: POUND, pounds: POUND, oz: POUND / 16,
  "gal (us)": GALLON, "gal (imp)": 0.00454609, "qt (us)": GALLON / 4, l: 0.001, litre: 0.001,
  litres: 0.001, m3: 1, ml: 1e-6,
  "%": 0.01, "% mac": 0.01, n: 1, kn: 1000, lbf: POUND * 9.80665,
};

/** The unit that a kind is written in where the text has none, for inches and for metres. */
const USUAL = {
  length: ["in", "mm"], angle: ["deg", "deg"], mass: ["lb", "kg"], volume: ["gal (US)", "L"],
  percent: ["%", "%"], force: ["lbf", "N"],
};

const NUMBER = "[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\\.[0-9]+|[0-9]+";
const FEET = new RegExp(`^(?:${NUMBER}) ?(feet|foot|ft\\.?|') ?-? ?(?:${NUMBER}) ?(inches|inch|in\\.?|")?$`, "i");
const SIMPLE = new RegExp(`^(${NUMBER}) ?([^0-9 .,/+*-].*)?$`);
const MINUTES = /^[0-9]+ ?(?:degrees?|deg|°) ?[0-9.]+ ?(?:'|min)/i;

/**
 * How a builder writes a value.
 * @param {string} text the value as written, without its tolerance
 * @param {string} kind length, angle, mass, ...; anything else is a plain number
 * @param {string} system the units of the file, for a text without one
 */
export function styleOf(text, kind, system) {
  const plain = alike(text);
  const [, before, rest] = /^((?:FS|BL|WL) ?)?(.*)$/i.exec(plain);
  const side = /^(.*?)(?: (L|R|left|right))$/i.exec(rest);
  const lean = /^(?:(inboard|outboard),? (.+)|(.+?),? (inboard|outboard))$/i.exec(rest);
  const size = (lean ? lean[2] || lean[3] : side ? side[1] : rest).replace(/^[+-] ?/, "").trim();
  const style = { before: before || "", sides: Boolean(side), leans: Boolean(lean), kind };
  return { ...style, ...sizeStyle(size, kind, system) };
}

/** One spelling for marks that look alike. */
function alike(text) {
  return String(text).replace(/[\u2018\u2019\u2032]/g, "'").replace(/[\u201c\u201d\u2033]/g, '"')
    .replace(/''/g, '"').replace(/[\u2010-\u2013\u2212]/g, "-").replace(/\s+/g, " ").trim();
}

/** Unit, factor and form of an unsigned size. */
function sizeStyle(size, kind, system) {
  const feet = kind === "length" && FEET.exec(size);
  if (feet) return { form: "feet", words: feet[1] !== "'", unit: "in", factor: INCH, digits: 0 };
  if (kind === "angle" && MINUTES.test(size)) return { form: "minutes", unit: "°", factor: DEGREE, digits: 0 };
  const simple = SIMPLE.exec(size);
  const number = simple ? simple[1] : "";
  const unit = (simple && simple[2]) || usual(kind, system);
  const factor = FACTORS[unit.toLowerCase()];
  if (unit && factor === undefined) return { form: "none", unit, factor: 1, digits: 0 };
  const digits = number.includes(".") ? number.split(".")[1].length : 0;
  if (factor === 12 * INCH && /^[0-9]+$/.test(number)) return { form: "feet", words: unit !== "'", unit: "in", factor: INCH, digits: 0 };
  const inches = factor === INCH && !number.includes(".");
  return { form: inches ? "fraction" : "decimal", unit, factor: factor ?? 1, digits };
}

/** The unit that goes without saying, "" for a plain number. */
function usual(kind, system) {
  const both = USUAL[kind];
  return both ? both[system === "mm" || system === "m" ? 1 : 0] : "";
}

/**
 * A value as the builder would write it, to the nearest step of the style's finest form.
 * @param {number} value [SI]
 */
export function written(value, style) {
  const number = value / style.factor;
  const size = style.sides || style.leans ? Math.abs(number) : number;
  const text = FORMS[style.form](size, style);
  if (style.leans) return `${number < 0 ? "inboard" : "outboard"} ${text}`;
  const side = style.sides ? (number < 0 ? " L" : " R") : "";
  return `${style.before}${text}${side}`;
}

/**
 * The value of a text in a builder's notation, near enough to place a slider; null where it is none.
 * The library alone reads what is asked for.
 */
export function sizeOf(text, kind, system) {
  const style = styleOf(text, kind, system);
  const plain = alike(text).split("±")[0].trim();
  const sense = /\binboard\b|[^a-z](?:L|left)$/i.test(plain) ? -1 : 1;
  const body = plain.replace(/^(?:FS|BL|WL) ?/i, "").replace(/\b(?:inboard|outboard)\b,?/gi, "").trim();
  const sign = body.startsWith("-") ? -1 : 1;
  const numbers = body.match(new RegExp(NUMBER, "g"));
  if (!numbers || style.form === "none") return null;
  const [first, second] = numbers.map(decimal);
  if (style.form === "feet") return sign * sense * (first * 12 + (second ?? 0)) * INCH;
  if (style.form === "minutes") return sign * sense * (first + second / 60) * DEGREE;
  return sign * sense * first * style.factor;
}

/** A decimal, a fraction, or a whole number and a fraction. */
function decimal(text) {
  return text.split(/[ -]/).reduce((sum, part) => {
    const [above, below] = part.split("/");
    return sum + Number(above) / Number(below ?? 1);
  }, 0);
}

const FORMS = {
  feet: feetInches,
  fraction: (number, style) => withUnit(signed(number, (size) => mixed(Math.round(size * 16))), style.unit),
  decimal: (number, style) => withUnit(trimmed(number, style), style.unit),
  minutes: (number) => signed(number, (size) => {
    const all = Math.round(size * 60);
    return `${Math.floor(all / 60)}° ${all % 60}'`;
  }),
  none: (number, style) => withUnit(String(number), style.unit),
};

/** A size's text with a minus before it where the number is below zero and does not round to it. */
function signed(number, write) {
  const text = write(Math.abs(number));
  return number < 0 && /[1-9]/.test(text) ? `-${text}` : text;
}

function withUnit(text, unit) {
  if (!unit) return text;
  return /^["'°]/.test(unit) ? text + unit : `${text} ${unit}`;
}

/** Sixteenths as a whole number and a fraction. */
function mixed(sixteenths) {
  let [whole, above, below] = [Math.floor(sixteenths / 16), sixteenths % 16, 16];
  if (!above) return String(whole);
  while (above % 2 === 0) [above, below] = [above / 2, below / 2];
  return whole ? `${whole} ${above}/${below}` : `${above}/${below}`;
}

function feetInches(number, style) {
  return signed(number, (size) => {
    const all = Math.round(size * 16);
    const [feet, rest] = [Math.floor(all / 192), mixed(all % 192)];
    if (style.words) return rest === "0" ? `${feet} ft` : `${feet} ft ${rest} in`;
    return `${feet}'-${rest}"`;
  });
}

/** A decimal with the digits that its builder wrote, and more only where they are needed. */
function trimmed(number, style) {
  const most = finest(style);
  const text = number.toFixed(most);
  const least = style.digits;
  let out = text;
  while (out.includes(".") && out.endsWith("0") && out.split(".")[1].length > least) out = out.slice(0, -1);
  out = out.endsWith(".") ? out.slice(0, -1) : out;
  return /[1-9]/.test(out) ? out : out.replace("-", "");
}

/** Digits behind the point that a decimal of this unit may take. */
function finest(style) {
  const small = { mm: 1, g: 0, l: 1, deg: 2, "°": 2, "": 3, m: 3, "%": 1, "% mac": 1 };
  return Math.max(style.digits, small[style.unit.toLowerCase()] ?? 2);
}
