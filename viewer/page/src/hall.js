/** The picture: what stands where, drawn when it was asked for and never in a loop. */
import { Color, DirectionalLight, Group, HemisphereLight, Matrix4, PerspectiveCamera, Scene, Vector3, WebGLRenderer } from "three";
import { Ground } from "./ground.js";
import { inked } from "./ink.js";
import { Solid, letGo } from "./solids.js";
import { SAME, after, both, reach, turned } from "./vectors.js";

export const PAPER = "#fbfaf6";
const FIGURES = [{ colour: "#e3bd4c", opacity: 1 }, { colour: "#aab4b5", opacity: 0.6 }];

export class Hall {
  /**
   * @param {Element} box what the picture fills
   * @param {import("./look.js").Look} look
   * @param {import("./store.js").Store} store
   * Throws where the browser has no WebGL.
   */
  constructor(box, look, store) {
    this.box = box;
    this.look = look;
    this.store = store;
    if (!document.createElement("canvas").getContext("webgl2")) throw new Error("no WebGL");
    this.renderer = new WebGLRenderer({ antialias: true, stencil: true, preserveDrawingBuffer: false });
    this.renderer.localClippingEnabled = true;
    this.renderer.setClearColor(PAPER);
    this.renderer.domElement.className = "picture";
    this.over = document.createElement("canvas");
    this.over.className = "over";
    this.over.setAttribute("aria-hidden", "true");
    box.append(this.renderer.domElement, this.over);
    this.camera = new PerspectiveCamera(30, 1, 0.05, 400);
    this.camera.up.set(0, 0, 1);
    this.#lights();
    this.inks = []; // each gives strokes and words to be drawn over the picture
    this.before = []; // each is called before the picture is drawn
    this.planes = [];
    this.solids = new Map();
    this.watch = new ResizeObserver(() => this.fit());
    this.watch.observe(box);
    this.fit();
  }

  #lights() {
    this.scene = new Scene();
    this.room = new Group();
    this.aircraft = new Group();
    this.figures = new Group();
    this.aircraft.matrixAutoUpdate = false;
    this.ground = new Ground();
    this.sun = new DirectionalLight(new Color("#fff6e4"), 1.7);
    this.scene.add(this.ground, this.room, this.aircraft, this.figures, this.sun, this.sun.target);
    this.scene.add(new HemisphereLight("#ffffff", "#cfc4ad", 1.9));
  }

  /** Has the picture drawn soon, once however often it is asked for. */
  ask() {
    this.waiting ??= requestAnimationFrame(() => {
      this.waiting = null;
      this.draw();
    });
  }

  /** Draws now. */
  draw() {
    for (const call of this.before) call();
    this.#aimSun();
    this.renderer.render(this.scene, this.camera);
    const pen = this.over.getContext("2d");
    const scale = this.renderer.getPixelRatio();
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, this.over.width, this.over.height);
    pen.setTransform(scale, 0, 0, scale, 0, 0);
    inked(pen, this, this.inks.flatMap((call) => call()));
    this.drawn = (this.drawn ?? 0) + 1;
  }

  /** Light comes over the left shoulder of who looks. */
  #aimSun() {
    const way = new Vector3(-0.5, 0.75, 0.8).applyQuaternion(this.camera.quaternion);
    way.z = Math.max(way.z, 0.6);
    this.sun.position.copy(way);
  }

  /** Takes the size of its box. */
  fit() {
    const [wide, high] = [Math.max(1, this.box.clientWidth), Math.max(1, this.box.clientHeight)];
    const ratio = Math.min(2, globalThis.devicePixelRatio || 1);
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(wide, high, false);
    Object.assign(this.over, { width: Math.round(wide * ratio), height: Math.round(high * ratio) });
    this.size = [wide, high];
    this.camera.aspect = wide / high;
    this.camera.updateProjectionMatrix();
    this.onFit?.();
    this.ask();
  }

  /** The stage that is shown. */
  stage() {
    return this.look.stage(this.store.get().stage);
  }

  /** Puts the aircraft's parts and the room's things in anew, where they are new. */
  refill() {
    const wanted = new Map();
    for (const part of this.stage()?.parts ?? []) wanted.set(`part ${part.name}`, [this.aircraft, { ...part, kind: "part" }]);
    for (const thing of this.look.room?.things ?? []) wanted.set(`thing ${thing.name}`, [this.room, { ...thing, of: thing.kind, kind: "thing" }]);
    this.look.figures.forEach((one, k) => wanted.set(`figure ${one.name}`, [this.figures, { ...FIGURES[k % 2], ...one, kind: "figure", number: k }]));
    for (const [key, solid] of this.solids) {
      const own = wanted.get(key);
      if (!own || this.look.mesh(own[1].mesh) !== solid.shape) this.#drop(key, solid);
    }
    for (const [key, [group, told]] of wanted) {
      const found = this.solids.get(key);
      if (found) found.told = told;
      else this.#put(key, group, told);
    }
    this.ground.fill(this.look.room, this.stage());
    this.dress();
  }

  #drop(key, solid) {
    solid.end();
    this.solids.delete(key);
    if (![...this.solids.values()].some((one) => one.shape === solid.shape)) letGo(solid.shape);
  }

  #put(key, group, told) {
    const shape = this.look.mesh(told.mesh);
    if (!shape) return;
    const solid = new Solid(shape, told);
    group.add(solid);
    this.solids.set(key, solid);
  }

  /** Shows, hides and lights what the state says. */
  dress() {
    const { hidden, faint, chosen, show, view } = this.store.get();
    const inside = view.startsWith("inside") || view.startsWith("through");
    for (const solid of this.solids.values()) {
      const { kind, name, of } = solid.told;
      solid.visible = !hidden.has(name) && (kind !== "thing" || show.room) && (kind !== "figure" || (solid.placed !== false && show[`figure ${solid.told.number}`]));
      solid.dress({
        faint: faint.has(name),
        chosen: chosen?.kind === kind && chosen.name === name,
        edges: show.edges && kind !== "figure",
        planes: kind === "part" ? this.planes : [],
        glass: inside && kind === "thing" && of !== "obstacle" ? 3 : this.#before(solid, view) ? 0.3 : 1,
      });
    }
    this.ground.dress(show, this.store.get().away);
    this.ask();
  }

  /** Whether a thing of the room stands between the aircraft and who looks straight at it. */
  #before({ told, shape }, view) {
    if (told.kind !== "thing" || !["ahead", "left"].includes(view) || !this.standing) return false;
    const way = view === "ahead" ? [-1, 0, 0] : [0, -1, 0];
    const out = turned(this.standing, way).map((one) => Math.round(one));
    const axis = out.findIndex((one) => one);
    const extent = this.extent();
    if (axis < 0 || axis > 1 || !extent) return false;
    const own = reach(shape.points);
    const middle = (own.low[axis] + own.high[axis]) / 2;
    return out[axis] > 0 ? middle > 0.5 * (extent.low[axis] + extent.high[axis]) + 1 : middle < 0.5 * (extent.low[axis] + extent.high[axis]) - 1;
  }

  /** Stands the aircraft: a matrix from its axes to those of the place. */
  stand(matrix) {
    this.standing = matrix;
    this.aircraft.matrix.copy(new Matrix4().set(...matrix));
    this.aircraft.matrixWorldNeedsUpdate = true;
    this.ground.shade(this.aircraft.children, matrix);
    this.ask();
  }

  /** The stage's own standing, before anything is moved. */
  parked(stage = this.stage()) {
    if (!stage) return SAME;
    return after(stage.floor2place ?? SAME, stage.body2floor);
  }

  /** Least and greatest coordinates of the aircraft as it stands, null where there is none. */
  extent(matrix = this.standing ?? this.parked()) {
    const all = [...this.aircraft.children].filter((one) => one.shape).map((one) => reach(one.shape.points, matrix));
    return all.length ? all.reduce(both) : null;
  }

  /** Where a point of the place lies in the picture [px], with its depth; z over 1 is behind. */
  project([x, y, z]) {
    const at = new Vector3(x, y, z).applyMatrix4(this.camera.matrixWorldInverse);
    const behind = at.z > -this.camera.near;
    at.applyMatrix4(this.camera.projectionMatrix);
    return [(0.5 + 0.5 * at.x) * this.size[0], (0.5 - 0.5 * at.y) * this.size[1], behind ? 2 : at.z];
  }

  /** The picture as it is seen now, on a sheet of its own [px], `fine` times as fine. */
  sheet(wide, high, fine = 1) {
    const [oldWide, oldHigh] = this.size;
    const ratio = this.renderer.getPixelRatio();
    this.renderer.setPixelRatio(fine);
    this.#shape(wide, high);
    for (const call of this.before) call();
    this.renderer.render(this.scene, this.camera);
    const paper = Object.assign(document.createElement("canvas"), { width: wide * fine, height: high * fine });
    const pen = paper.getContext("2d");
    pen.drawImage(this.renderer.domElement, 0, 0);
    pen.scale(fine, fine);
    inked(pen, this, this.inks.flatMap((call) => call()));
    this.renderer.setPixelRatio(ratio);
    this.#shape(oldWide, oldHigh);
    this.draw();
    return paper;
  }

  #shape(wide, high) {
    this.renderer.setSize(wide, high, false);
    this.size = [wide, high];
    this.camera.aspect = wide / high;
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
  }
}
