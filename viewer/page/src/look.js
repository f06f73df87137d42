/** What the page holds of an aircraft and a room: taken whole or in parts, meshes by their names. */

/** Meshes that are kept though nothing shown has them, so that what comes back is there. */
const SPARE = 400;

export class Look {
  constructor() {
    this.design = { name: "", story: "", datum: "" };
    this.place = null;
    this.room = null;
    this.figures = [];
    this.stages = [];
    this.views = [];
    this.notes = [];
    this.cautions = [];
    this.units = "ft-in";
    this.written = "";
    this.tool = "";
    this.meshes = new Map();
    this.told = new Set();
  }

  /** Has `call(part)` called with each look that was taken. */
  subscribe(call) {
    this.told.add(call);
  }

  /** Takes a look or some of one: stages replace those of the same key, meshes are added. */
  take(part) {
    for (const [name, mesh] of Object.entries(part.meshes ?? {})) {
      if (!this.meshes.has(name)) this.meshes.set(name, new Shape(mesh));
    }
    for (const key of ["design", "place", "room", "figures", "views", "notes", "cautions", "units", "written"]) {
      if (part[key] !== undefined) this[key] = part[key];
    }
    if (part.tool_version) this.tool = part.tool_version;
    for (const stage of part.stages ?? []) this.#stage(stage);
    if (part.only) this.stages = this.stages.filter((one) => part.only.includes(one.key));
    this.#forget();
    for (const call of [...this.told]) call(part);
  }

  #stage(stage) {
    const number = this.stages.findIndex((one) => one.key === stage.key);
    if (number < 0) this.stages.push(stage);
    else this.stages[number] = stage;
  }

  /** The stage of a key, the first where there is none of it. */
  stage(key) {
    return this.stages.find((one) => one.key === key) ?? this.stages[0] ?? null;
  }

  /** The arrays of a mesh, null for one that never came. */
  mesh(name) {
    const found = this.meshes.get(name);
    if (!found) return null;
    this.meshes.delete(name);
    this.meshes.set(name, found);
    return found;
  }

  /** Names of all meshes that the page holds. */
  held() {
    return [...this.meshes.keys()];
  }

  /** Names of the meshes that what is shown speaks of. */
  used() {
    const names = [...this.figures, ...(this.room?.things ?? [])].map((one) => one.mesh);
    for (const stage of this.stages) names.push(...stage.parts.map((one) => one.mesh));
    return new Set(names);
  }

  /** Lets the meshes go that were not used for the longest. */
  #forget() {
    const used = this.used();
    const spare = this.held().filter((name) => !used.has(name));
    for (const name of spare.slice(0, Math.max(0, spare.length - SPARE))) this.meshes.delete(name);
  }
}

/** A closed mesh; its arrays are read from the text when they are first asked for. */
export class Shape {
  constructor({ points, faces, edges }) {
    this.texts = { points, faces, edges };
    this.known = {};
  }

  /** Corners, x y z after x y z [m]. */
  get points() {
    return (this.known.points ??= new Float32Array(bytes(this.texts.points)));
  }

  /** Three numbers of corners for each facet. */
  get faces() {
    return (this.known.faces ??= new Uint32Array(bytes(this.texts.faces)));
  }

  /** Two numbers of corners for each edge to be drawn. */
  get edges() {
    return (this.known.edges ??= new Uint32Array(bytes(this.texts.edges ?? "")));
  }
}

function bytes(text) {
  const raw = atob(text);
  const out = new Uint8Array(raw.length);
  for (let k = 0; k < raw.length; k += 1) out[k] = raw.charCodeAt(k);
  return out.buffer;
}
