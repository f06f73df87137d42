/**
 * Lengths and angles as builders write them: the same grammar as the library's, to the same
 * sentences. Nothing is guessed: bare numbers and decimal commas are asked about.
 *
 * `units` is the library's own table: spelling -> [kind, SI units of one].
 */
const ALLOWED = {
  length: "allowed: a length with its unit (m, cm, mm, in, ft), such as 11'-4 1/2\", 136.5 in or 1250 mm",
  angle: "allowed: an angle with its unit (deg, rad), such as 2.5 deg or 2° 30'",
};
const USUAL = { length: ["in", "mm"], angle: ["deg", "rad"] };
const SOURCES = ["drawing", "measured", "assumed"];
const LONGEST = 80;

const NUMBER = "(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\\.[0-9]+|[0-9]+)";
const whole = (text, flags = "") => new RegExp(`^(?:${text})$`, flags);
const BARE = whole(NUMBER);
const SIMPLE = whole(`(${NUMBER}) ?([^0-9 .,/+*-].*)`);
const ZERO = /^(?:0+(?:\.0+)?|\.0+)$/;
const FEET_INCHES = whole(`(${NUMBER}) ?(?:feet|foot|ft\\.?|') ?-? ?(${NUMBER}) ?(?:inches|inch|in\\.?|")?`, "i");
const DEGREES = whole(`(${NUMBER}) ?(?:degrees?|deg|°) ?(${NUMBER}) ?(?:'|min)(?: ?(${NUMBER}) ?(?:"|sec))?`, "i");
const STATION = /^(FS|[LR]?BL|WL) ?(?![A-Z])(.+)$/i;
const LEANS = /^(?:(?:leans|leaning|canted) )?(?:(inboard|outboard),? (.+)|(.+?),? (inboard|outboard))$/i;
const SIDE = /^(.*(?: |["']))(L|R|left|right)$/i;
const SOURCE = /^(.*) ?\( ?([^()]*?) ?\)$/;
const NOT_FINITE = /^[+-]?(?:nan|inf|infinity)\b/i;
const COMMA_NUMBER = /[0-9.,]*,[0-9.,]*/;

const ALIKE = [
  [/[\u2010-\u2013\u2212\ufe63\uff0d]/g, "-"],
  [/[\u2018\u2019\u02b9\u2032\u00b4`]/g, "'"],
  [/[\u201c\u201d\u02ba\u2033]/g, '"'],
  [/[\u00ba\u02da]/g, "°"],
  [/[\u2044\u2215]/g, "/"],
  [/²/g, "2"],
  [/³/g, "3"],
  [/''/g, '"'],
  [/\+\/-/g, "±"],
];

/** Why a text is not read; its message says what to write. */
export class Refused extends Error {}

function refuse(words) {
  throw new Refused(words);
}

export class Notation {
  /** @param {Object<string, [string, number]>} units */
  constructor(units) {
    this.units = units;
  }

  /**
   * Reads one quantity: {value, tolerance} in metres or radians; throws Refused.
   * @param {string} text
   * @param {"length"|"angle"} kind
   */
  read(text, kind) {
    if (text.length > LONGEST) refuse(`too long: at most ${LONGEST} characters; ${ALLOWED[kind]}`);
    const [value, ...bands] = withoutSource(plain(text)).split("±").map((part) => part.trim());
    if (bands.length > 1) refuse("one tolerance is allowed, such as 174 in ± 1/8 in");
    const number = kind === "angle" ? this.#leaning(value) : this.#station(value, kind);
    return { value: number, tolerance: bands.length ? this.#tolerance(bands[0], kind) : 0 };
  }

  #tolerance(part, kind) {
    if (/^[+-]/.test(part)) refuse("a tolerance has no sign of its own; write ± 1/8 in, for example");
    return this.#quantity(part, kind);
  }

  #leaning(part) {
    const match = LEANS.exec(part);
    if (!match) return this.#signed(part, "angle");
    const size = (match[2] || match[3]).trim();
    return refuse(`this angle is not one outboard or inboard; write ${size} or -${size}`);
  }

  #station(part, kind) {
    const station = STATION.exec(part);
    if (!station) return this.#signed(part, kind);
    let [name, rest] = [station[1].toUpperCase(), station[2]];
    if (name.length > 2) {
      if (SIDE.test(rest)) refuse(`two sides; write BL 55.5 in ${name[0]}`);
      [name, rest] = ["BL", `${rest} ${name[0]}`];
    }
    if (BARE.test(rest) && !ZERO.test(rest)) refuse(`no unit; write ${name} ${rest} in or ${name} ${rest} mm`);
    const side = SIDE.exec(rest);
    if (!side) return this.#signed(rest, kind);
    if (name !== "BL") refuse("only a butt line has a side; write FS 142.5 in, for example".replace("FS", name));
    if (/^[+-]/.test(rest)) refuse("a sign and a side are two signs; write BL 55.5 in L or BL -55.5 in");
    const size = this.#quantity(side[1].trim(), kind);
    return /^l/i.test(side[2]) ? -size || 0 : size;
  }

  #signed(part, kind) {
    if (!/^[+-]/.test(part)) return this.#quantity(part, kind);
    const size = part.slice(1).trim();
    if (/^[+-]/.test(size)) refuse("two signs; write one, such as -12 in");
    const value = this.#quantity(size, kind);
    return part[0] === "-" ? -value || 0 : value;
  }

  #quantity(part, kind) {
    if (ZERO.test(part)) return 0;
    const hint = hintOf(part, kind);
    if (hint) refuse(hint);
    const feet = kind === "length" && FEET_INCHES.exec(part);
    if (feet) return this.#feetInches(feet[1], feet[2]);
    const turned = kind === "angle" && DEGREES.exec(part);
    if (turned) return this.#degrees(turned.slice(1));
    const match = SIMPLE.exec(part);
    if (!match) refuse(ALLOWED[kind]);
    const number = numberOf(match[1]);
    return number * this.#unit(match[1], match[2], kind);
  }

  #unit(number, written, kind) {
    const unit = written.toLowerCase().replace(/ ?\( ?(\w+) ?\)/g, " ($1)").replace(/ ?\/ ?/g, "/").replace(/\^/g, "");
    const found = Object.hasOwn(this.units, unit) ? this.units[unit] : null;
    if (found?.[0] === kind) return found[1];
    if (["lbf", "kgf", "n", "kn"].includes(unit)) refuse(`${written} is a unit of force; ${ALLOWED[kind]}`);
    return refuse(found ? `${written} is a unit of ${found[0].replace(/_/g, " ")}; ${ALLOWED[kind]}` : ALLOWED[kind]);
  }

  #feetInches(feet, inches) {
    if (!/^[0-9]+$/.test(feet)) refuse("feet in front of inches are whole; write 11'-4 1/2\" or 11.375 ft");
    const rest = numberOf(inches);
    if (rest >= 12) {
      const over = Math.floor(rest / 12);
      const tidy = mixedText(inches, 12 * over);
      refuse(`inches behind feet stay below 12; if that is meant, write ${Number(feet) + over} ft ${tidy} in`);
    }
    return (Number(feet) * 12 + rest) * this.units.in[1];
  }

  #degrees([degrees, minutes, seconds]) {
    const leading = seconds === undefined ? [degrees] : [degrees, minutes];
    if (!leading.every((text) => /^[0-9]+$/.test(text))) {
      refuse("only the last part may have decimals; write 2° 30' or 2.5 deg");
    }
    const parts = [numberOf(minutes), numberOf(seconds ?? "0")];
    if (Math.max(...parts) >= 60) refuse("minutes and seconds stay below 60; write 2° 30' 15\", for example");
    return (Number(degrees) + parts[0] / 60 + parts[1] / 3600) * this.units.deg[1];
  }
}

/** Whether a text is a number without its unit, which is asked about. */
export function bare(text) {
  return BARE.test(plain(text).replace(/^[+-] ?/, ""));
}

/** One spelling for dashes, primes, spaces and fractions that look alike. */
export function plain(text) {
  let out = "";
  const marks = [...text];
  marks.forEach((mark, at) => {
    const parts = mark.normalize("NFKC");
    if (mark === parts || !parts.includes("\u2044")) out += mark;
    else out += `${/\d/.test(marks[at - 1] ?? "") ? " " : ""}${parts}${/\d/.test(marks[at + 1] ?? "") ? " " : ""}`;
  });
  for (const [some, one] of ALIKE) out = out.replace(some, one);
  return out.split(/\s+/).filter(Boolean).join(" ");
}

function withoutSource(text) {
  const match = SOURCE.exec(text);
  if (!match || ["us", "imp"].includes(match[2].toLowerCase())) return text;
  if (!SOURCES.includes(match[2].toLowerCase())) refuse(`no such source; allowed in parentheses: ${SOURCES.join(", ")}`);
  return match[1].trim();
}

function hintOf(part, kind) {
  if (!part) return `nothing is written; ${ALLOWED[kind]}`;
  if (part.startsWith("#")) return `a spreadsheet error, not a value; ${ALLOWED[kind]}`;
  if (BARE.test(part)) return `no unit; write ${part} ${USUAL[kind][0]} or ${part} ${USUAL[kind][1]}`;
  if (NOT_FINITE.test(part)) return "not a finite number; write a plain number";
  return commaHint(part, kind);
}

function commaHint(part, kind) {
  const match = COMMA_NUMBER.exec(part);
  if (!match) return null;
  const found = match[0];
  const last = Math.max(found.lastIndexOf(","), found.lastIndexOf("."));
  const front = found.slice(0, last).replace(/[.,]/g, "") || "0";
  const asPoint = `${front}.${found.slice(last + 1)}`.replace(/\.+$/, "");
  const asGroup = found.replace(/[.,]/g, "") || "0";
  const rest = part.slice(match.index + found.length) || ` ${USUAL[kind][0]}`;
  if (found.includes(".")) return `a comma in a number; write ${asPoint}${rest}`;
  if (found.split(",").length > 2) return `a comma in a number; write ${asGroup}${rest}`;
  return `a comma can be read two ways; write ${asPoint}${rest} or ${asGroup}${rest}`;
}

/** A decimal, a proper fraction, or a whole number and a proper fraction. */
function numberOf(text) {
  if (!text.includes("/")) return Number(text);
  const parts = text.split(/[ -]/);
  const part = parts.pop();
  const [above, below] = part.split("/").map(Number);
  if (below === 0) refuse(`${part} divides by zero; write a fraction such as 5/8`);
  const count = parts.length ? Number(parts[0]) : 0;
  if (above >= below) {
    const units = count + Math.floor(above / below);
    const rest = above % below;
    refuse(`${part} is not less than one; if that is meant, write ${rest ? `${units} ${lowest(rest, below)}` : units}`);
  }
  return count + above / below;
}

function lowest(above, below) {
  let [a, b] = [above, below];
  while (b) [a, b] = [b, a % b];
  return `${above / a}/${below / a}`;
}

/** A number of inches less so many whole ones, as a mixed number. */
function mixedText(text, less) {
  let [above, below] = [0, 1];
  let count = 0;
  if (text.includes("/")) {
    const parts = text.split(/[ -]/);
    [above, below] = parts.pop().split("/").map(Number);
    count = parts.length ? Number(parts[0]) : 0;
  } else {
    const [front, back = ""] = text.split(".");
    [count, above, below] = [Number(front || 0), Number(back || 0), 10 ** back.length];
  }
  count -= less;
  if (!above) return String(count);
  return count ? `${count} ${lowest(above, below)}` : lowest(above, below);
}
