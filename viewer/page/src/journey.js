/** The way out: where the aircraft stands at a share of it, played, paused and dragged along. */
import { after, atPose } from "./vectors.js";

const PACE = 0.9; // metres a second when played
const SHORTEST = 5; // seconds that a whole way takes at least
const REST = 1100; // between steps where motion is unwanted [ms]

/** The state of an aircraft that stands where it is parked. */
export const PARKED = Object.freeze({ share: 0, away: false, playing: false, jam: null });

export class Journey {
  constructor(shop) {
    this.shop = shop;
    shop.store.subscribe((state) => (state.playing ? this.#run() : null), ["playing"]);
    shop.store.subscribe(() => shop.store.set(PARKED), ["stage"]);
  }

  /** The way of the stage that is shown, null where there is none to go. */
  way() {
    const way = this.shop.look.stage(this.shop.store.get().stage)?.way;
    return way?.poses?.length > 1 ? way : null;
  }

  /** How far each pose is along, turning counted too, so that turns on the spot take time. */
  runs() {
    const { poses } = this.way();
    if (this.known?.poses === poses) return this.known.runs;
    const runs = [0];
    for (let k = 1; k < poses.length; k += 1) {
      const [a, b] = [poses[k - 1], poses[k]];
      runs.push(runs[k - 1] + Math.max(Math.hypot(b[0] - a[0], b[1] - a[1]), 2 * Math.abs(b[2] - a[2]), 1e-9));
    }
    this.known = { poses, runs };
    return runs;
  }

  /** The share of the way at a pose by its number. */
  shareOf(number) {
    if (!this.way() || number < 0) return -1;
    const runs = this.runs();
    return runs[Math.min(number, runs.length - 1)] / runs[runs.length - 1];
  }

  /** Number of the pose before a share, and how far on to the next. */
  at(share) {
    const runs = this.runs();
    const run = share * runs[runs.length - 1];
    let k = runs.findIndex((one) => one >= run);
    k = Math.min(Math.max(k, 1), runs.length - 1);
    return [k - 1, (run - runs[k - 1]) / (runs[k] - runs[k - 1])];
  }

  /** The pose at a share: x, y [m], heading [rad]. */
  pose(share) {
    const { poses } = this.way();
    const [k, on] = this.at(share);
    return poses[k].map((one, axis) => one + on * (poses[k + 1][axis] - one));
  }

  /** How the aircraft stands by the state. */
  matrix() {
    const { share, away } = this.shop.store.get();
    const stage = this.shop.hall.stage();
    const jam = this.jammed();
    if (jam) return after(atPose(jam.at), stage.body2floor);
    return away && this.way() ? after(atPose(this.pose(share)), stage.body2floor) : this.shop.hall.parked(stage);
  }

  /** The step of the way at a share. */
  step(share) {
    const [k, on] = this.at(share);
    return this.way().steps.find((one) => k + on <= one.last + 1e-9) ?? this.way().steps.at(-1);
  }

  /** Metres that it has come at a share. */
  metres(share) {
    const { lengths } = this.way();
    const [k, on] = this.at(share);
    return lengths[k] + on * (lengths[k + 1] - lengths[k]);
  }

  /** Plays from where it stands, from the start where it is at its end; or holds. */
  play() {
    const { playing, share } = this.shop.store.get();
    if (!this.way()) return;
    if (playing) this.shop.store.set({ playing: false });
    else this.shop.store.set({ playing: true, away: true, jam: null, share: share >= 1 ? 0 : share });
  }

  /** Goes to a share by hand. */
  drag(share) {
    if (this.way()) this.shop.store.set({ share: Math.min(1, Math.max(0, share)), away: true, playing: false, jam: null });
  }

  /** Back to where it is parked. */
  park() {
    this.shop.store.set(PARKED);
  }

  /** The place where it jams that is shown, null where none is. */
  jammed() {
    const { stage, jam } = this.shop.store.get();
    return jam === null ? null : this.shop.look.stage(stage)?.way?.tight?.[jam] ?? null;
  }

  /** Stands it where it jams, a place by its number. */
  jam(number) {
    this.shop.store.set({ ...PARKED, jam: number });
  }

  #run() {
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) return this.#steps();
    const { store } = this.shop;
    const whole = Math.max(SHORTEST, this.runs().at(-1) / PACE) * 1000;
    let last = performance.now();
    const frame = (now) => {
      const { playing, share } = store.get();
      if (!playing || !this.way()) return;
      const next = Math.min(1, share + Math.max(0, now - last) / whole);
      last = now;
      store.set({ share: next, playing: next < 1 });
      if (next < 1) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  }

  /** From step to step without motion between. */
  #steps() {
    const { store } = this.shop;
    const ends = [...new Set(this.way().steps.map((one) => this.shareOf(one.last)))];
    const next = () => {
      const { playing, share } = store.get();
      if (!playing || !this.way()) return;
      const goal = ends.find((one) => one > share + 1e-6) ?? 1;
      store.set({ share: goal, playing: goal < 1 });
      if (goal < 1) setTimeout(next, REST);
    };
    next();
  }
}
