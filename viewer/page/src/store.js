/** One state of the page, and who is told when it changes. */

/** What the page shows when nothing was chosen. */
export const FIRST = Object.freeze({
  stage: null, // key of the stage
  hidden: new Set(), // names of parts and things that are not shown
  faint: new Set(), // names of those that are see-through
  chosen: null, // {kind: "part" | "thing", name}
  gap: null, // the least clearance that is drawn strongly: {part, thing}
  view: "corner", // name of the view; "free" once it was turned by hand
  share: 0, // of the way out, 0 to 1
  jam: null, // number of the place where it jams that is shown
  away: false, // whether the aircraft stands on its way out
  playing: false,
  section: { axis: "none", at: null }, // at: metres along the axis
  ruler: { on: false, points: [] }, // points: {at: [x, y, z] in place axes, name}
  moving: false, // whether dragging moves a thing on the floor
  units: "ft-in",
  show: Object.freeze({
    room: true, "figure 0": true, "figure 1": false, leaders: true, heights: true, marks: false, swept: true, edges: true,
  }),
});

export class Store {
  /** @param {object} first what differs from `FIRST` */
  constructor(first = {}) {
    this.state = { ...FIRST, ...first };
    this.told = new Set();
  }

  /** The state; never changed in place. */
  get() {
    return this.state;
  }

  /** Changes some of the state and tells who is subscribed which keys are new. */
  set(some) {
    const keys = Object.keys(some).filter((key) => some[key] !== this.state[key]);
    if (!keys.length) return;
    this.state = { ...this.state, ...some };
    const changed = new Set(keys);
    for (const call of [...this.told]) call(this.state, changed);
  }

  /**
   * Has `call(state, changed)` called whenever one of the keys changes, any where none is named.
   * @returns {() => void} what ends it
   */
  subscribe(call, keys = null) {
    const one = (state, changed) => {
      if (!keys || keys.some((key) => changed.has(key))) call(state, changed);
    };
    this.told.add(one);
    return () => this.told.delete(one);
  }
}

/** A set with a name in it or not in it, the old one unchanged. */
export function withName(names, name, inside) {
  const out = new Set(names);
  if (inside) out.add(name);
  else out.delete(name);
  return out;
}
