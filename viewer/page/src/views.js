/** From where the picture is looked at: by name, by hand, and on foot inside the room. */
import { OrbitControls, Vector3 } from "three";
import { Walker } from "./walker.js";
import { standingSpot } from "./spots.js";
import { EYE_HEIGHT, add, cross, dot, less, reach, size, times, turned, unit } from "./vectors.js";

const NARROW = 5; // angle of view for straight views, nearly without perspective [deg]
const USUAL = 30;
const WIDE = 62; // inside, as one sees without turning the head [deg]
const MARGIN = 0.07;
const ROOMY = 1.8; // a room may run out of the picture beyond this many times the aircraft
const GLIDE = 320; // [ms]

/** The views that a look has, each {key, words}. */
export function viewsOf(look) {
  const out = [["corner", "from a corner"], ["above", "from above"], ["ahead", "from ahead"], ["left", "from the left"]];
  (look.room?.doors ?? []).forEach((door, k) => out.push([`through ${k}`, `through ${door.name}`]));
  if (look.room) out.push(["inside", "inside, eye at 5 ft 6 in"]);
  return out.map(([key, words]) => ({ key, words }));
}

export class Views {
  /** @param {import("./hall.js").Hall} hall */
  constructor(hall, store) {
    this.hall = hall;
    this.store = store;
    const canvas = hall.renderer.domElement;
    this.orbit = new OrbitControls(hall.camera, canvas);
    Object.assign(this.orbit, { enableDamping: false, maxPolarAngle: Math.PI * 0.53, minDistance: 0.3, maxDistance: 300, zoomSpeed: 1.2 });
    this.walker = new Walker(hall, () => this.#turned());
    this.orbit.addEventListener("start", () => (this.held = true));
    this.orbit.addEventListener("end", () => (this.held = false));
    this.orbit.addEventListener("change", () => {
      if (this.held) this.#turned();
      hall.ask();
    });
    hall.onFit = () => {
      if (this.store.get().view !== "free") this.go(this.store.get().view, false);
    };
  }

  #turned() {
    this.gliding = null;
    const { view } = this.store.get();
    if (view !== "free" && view !== "inside") this.store.set({ view: "free" });
  }

  /** Goes to a view by name, gliding unless motion is unwanted. */
  go(key, glide = true) {
    const place = this.placeOf(key);
    if (!place) return;
    this.walker.on = key === "inside";
    this.orbit.enabled = !this.walker.on;
    if (glide && !matchMedia("(prefers-reduced-motion: reduce)").matches) this.#glide(place);
    else this.#stand(place);
  }

  /** Eye, target and angle of a view; null for one that is not there. */
  placeOf(key) {
    const extent = this.hall.extent();
    const [name, number] = key.split(" ");
    const door = this.hall.look.room?.doors?.[Number(number)];
    if (name === "through" && door) return throughDoor(door, extent, this.hall.camera.aspect);
    if (key === "inside" && this.hall.look.room) return this.#inside(extent);
    const way = this.#direction(name);
    return way && this.#framed(way, name === "corner" ? USUAL : NARROW);
  }

  /** The way from the aircraft to the eye. */
  #direction(name) {
    const stood = this.hall.standing ?? this.hall.parked();
    const flat = (way) => unit([...turned(stood, way).slice(0, 2), 0]);
    const [nose, left] = [flat([-1, 0, 0]), flat([0, -1, 0])];
    if (name === "ahead") return nose;
    if (name === "left") return left;
    if (name === "above") return this.hall.look.room ? [0, -0.001, 1] : [-0.001 * nose[0], -0.001 * nose[1], 1];
    const tall = this.hall.camera.aspect < 1.05; // then steeper, and more from ahead
    const [ahead, beside, up] = tall ? [0.85, 0.42, 0.85] : [0.62, 0.78, 0.62];
    return name === "corner" ? unit(add(add(times(nose, ahead), times(left, beside)), [0, 0, up])) : null;
  }

  /** The eye from which all that matters is just in the picture. */
  #framed(way, angle) {
    const right = unit(cross([0, 0, 1], way));
    const frame = [right, cross(way, right), way];
    const points = this.#subject(frame).map((one) => frame.map((axis) => dot(axis, one)));
    const high = Math.tan((angle * Math.PI) / 360) * (1 - 2 * MARGIN);
    const eye = [0, 0, 0];
    [this.hall.camera.aspect * high, high].forEach((slope, k) => {
      const above = Math.max(...points.map((p) => p[k] + slope * p[2]));
      const below = Math.max(...points.map((p) => -p[k] + slope * p[2]));
      eye[k] = (above - below) / 2;
      eye[2] = Math.max(eye[2] || -Infinity, (above + below) / (2 * slope));
    });
    const depths = points.map((p) => p[2]);
    const middle = (Math.min(...depths) + Math.max(...depths)) / 2;
    const out = (a) => add(add(times(frame[0], a[0]), times(frame[1], a[1])), times(frame[2], a[2]));
    return { eye: out(eye), target: out([eye[0], eye[1], middle]), angle };
  }

  /** What is to be in the picture: the aircraft, and the room as far as it is near. */
  #subject(frame) {
    const extent = this.hall.extent() ?? { low: [-4, -4, 0], high: [4, 4, 2] };
    const own = [extent, ...this.#figures()].flatMap(corners);
    const { room } = this.hall.look;
    if (this.store.get().away) own.push(...(this.hall.stage().way?.swept ?? []).flat().map(([x, y]) => [x, y, 0]));
    if (!room || !this.store.get().show.room) return own;
    const low = frame.map((axis) => Math.min(...own.map((p) => dot(axis, p))));
    const high = frame.map((axis) => Math.max(...own.map((p) => dot(axis, p))));
    const wide = (ROOMY / 2) * Math.max(high[0] - low[0], high[1] - low[1]);
    const far = room.floor.flatMap(([x, y]) => [[x, y, 0], [x, y, this.#high()]]).map((corner) => {
      const at = frame.map((axis) => dot(axis, corner));
      const held = at.map((one, k) => Math.min(Math.max(one, (low[k] + high[k]) / 2 - wide), (low[k] + high[k]) / 2 + wide));
      return frame.reduce((sum, axis, k) => add(sum, times(axis, held[k])), [0, 0, 0]);
    });
    return [...own, ...far];
  }

  /** How high the walls are. */
  #high() {
    const walls = [...this.hall.solids.values()].filter((one) => one.told.of === "wall").map((one) => reach(one.shape.points).high[2]);
    return Math.max(0, ...walls);
  }

  /** From where to where the figures that are shown reach. */
  #figures() {
    const shown = [...this.hall.solids.values()].filter((one) => one.told.kind === "figure" && one.visible);
    return shown.map((one) => ({ solid: one, ...reach(one.shape.points) })).map(({ solid, low, high }) => {
      const at = solid.position.toArray();
      return { low: add(low, at), high: add(high, at) };
    });
  }

  /** A place to stand in the room with the aircraft well in sight. */
  #inside(extent) {
    const aim = extent ? times(add(extent.low, extent.high), 0.5) : [0, 0, 1];
    const [x, y] = standingSpot(this.hall, aim);
    return { eye: [x, y, EYE_HEIGHT], target: [aim[0], aim[1], Math.max(0.6, aim[2])], angle: WIDE };
  }

  #stand({ eye, target, angle }) {
    const { camera } = this.hall;
    const far = size(less(target, eye));
    Object.assign(camera, { fov: angle, near: angle >= WIDE ? 0.05 : Math.max(0.05, far / 50), far: far * 3 + 120 });
    camera.position.set(...eye);
    this.orbit.target.copy(new Vector3(...target));
    camera.lookAt(this.orbit.target);
    camera.updateProjectionMatrix();
    if (this.orbit.enabled) this.orbit.update();
    camera.updateMatrixWorld();
    this.hall.ask();
  }

  #glide(goal) {
    const { camera } = this.hall;
    const from = { eye: camera.position.toArray(), target: this.orbit.target.toArray(), angle: camera.fov };
    const began = performance.now();
    const mine = (this.gliding = {});
    const step = (now) => {
      if (this.gliding !== mine) return;
      const run = Math.min(1, Math.max(0, (now - began) / GLIDE));
      const share = run * run * (3 - 2 * run);
      const mix = (a, b) => (Array.isArray(a) ? add(times(a, 1 - share), times(b, share)) : a + share * (b - a));
      this.#stand(run >= 1 ? goal : Object.fromEntries(Object.keys(goal).map((key) => [key, mix(from[key], goal[key])])));
      if (run < 1) requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  /** Turns about what is looked at [rad], or the head where one stands inside. */
  turn(around, up) {
    if (this.walker.on) return this.walker.look(around, up);
    this.#turned();
    const { camera } = this.hall;
    const arm = camera.position.clone().sub(this.orbit.target);
    const high = Math.min(Math.max(Math.asin(arm.z / arm.length()) + up, -0.09), Math.PI / 2 - 0.001);
    const round = Math.atan2(arm.y, arm.x) + around;
    const [long, flat] = [arm.length(), arm.length() * Math.cos(high)];
    camera.position.copy(this.orbit.target).add(new Vector3(flat * Math.cos(round), flat * Math.sin(round), long * Math.sin(high)));
    camera.lookAt(this.orbit.target);
    this.orbit.update();
    this.hall.ask();
  }

  /** Comes nearer by a factor below one, goes away above it; on foot: steps. */
  near(factor) {
    if (this.walker.on) return this.walker.step(factor < 1 ? 0.4 : -0.4, 0);
    this.#turned();
    const { camera } = this.hall;
    const arm = camera.position.clone().sub(this.orbit.target).multiplyScalar(factor);
    if (arm.length() < 0.3 || arm.length() > 300) return;
    camera.position.copy(this.orbit.target).add(arm);
    this.orbit.update();
    this.hall.ask();
  }

  /** Shifts the picture by shares of its height; on foot: steps. */
  shift(right, up) {
    if (this.walker.on) return this.walker.step(up, right);
    this.#turned();
    const { camera } = this.hall;
    const far = camera.position.distanceTo(this.orbit.target) * 2 * Math.tan((camera.fov * Math.PI) / 360);
    const by = new Vector3(right * far, up * far, 0).applyQuaternion(camera.quaternion);
    camera.position.add(by);
    this.orbit.target.add(by);
    this.orbit.update();
    this.hall.ask();
  }
}

function corners({ low, high }) {
  return [0, 1, 2, 3, 4, 5, 6, 7].map((k) => [0, 1, 2].map((axis) => ((k >> axis) & 1 ? high : low)[axis]));
}

/** Looks in through a door from outside, with the whole opening in sight. */
function throughDoor(door, extent, aspect) {
  const far = Math.max(4, 1.1 * door.width);
  const eye = [door.at[0] + far * door.out[0], door.at[1] + far * door.out[1], EYE_HEIGHT];
  const aim = extent ? times(add(extent.low, extent.high), 0.5) : [door.at[0] - door.out[0], door.at[1] - door.out[1], 1];
  const target = [0.4 * aim[0] + 0.6 * door.at[0], 0.4 * aim[1] + 0.6 * door.at[1], door.height / 2];
  const half = Math.max((0.6 * door.width) / aspect, 0.62 * door.height) / far;
  return { eye, target, angle: (2 * Math.atan(half) * 180) / Math.PI };
}
