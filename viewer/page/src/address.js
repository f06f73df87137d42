/** What is shown, in the address behind the #: so that it can be sent on, and a reload keeps it. */

function words() {
  return new URLSearchParams(location.hash.slice(1));
}

/** Text of a key of the address, null where there is none. */
export function kept(key) {
  return words().get(key);
}

/** Writes a text under a key of the address, or takes it out where the text is null or empty. */
export function keep(key, text) {
  const all = words();
  if (text === null || text === undefined || text === "") all.delete(key);
  else all.set(key, text);
  const hash = String(all);
  if (hash === location.hash.slice(1)) return;
  try {
    history.replaceState(history.state, "", `${location.pathname}${location.search}${hash ? `#${hash}` : ""}`);
  } catch {
    // a browser that lets no page from disk write its address: it is kept as long as the page is open
  }
}

/** Names in one text, and back. */
const listed = (names) => [...names].map(encodeURIComponent).join(",");
const split = (text) => new Set((text ?? "").split(",").filter(Boolean).map(decoded));

function decoded(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** What the address says of the state. */
export function fromAddress() {
  const out = { hidden: split(kept("hidden")), faint: split(kept("faint")) };
  for (const key of ["stage", "view"]) if (kept(key)) out[key] = kept(key);
  const share = Number(kept("way"));
  if (kept("way") && Number.isFinite(share)) Object.assign(out, { share: Math.min(1, Math.max(0, share)), away: true });
  const [axis, at] = (kept("cut") ?? "").split(" ");
  if (axis && Number.isFinite(Number(at))) out.section = { axis, at: Number(at) };
  const [kind, ...name] = (kept("chosen") ?? "").split(" ");
  if (name.length) out.chosen = { kind, name: name.join(" ") };
  return out;
}

/** Keeps the state in the address from now on. */
export function keepState(store) {
  store.subscribe((state) => {
    keep("hidden", listed(state.hidden));
    keep("faint", listed(state.faint));
    keep("stage", state.stage);
    keep("view", ["corner", "free"].includes(state.view) ? null : state.view);
    keep("chosen", state.chosen ? `${state.chosen.kind} ${state.chosen.name}` : null);
    const { axis, at } = state.section;
    keep("cut", axis === "none" || at === null ? null : `${axis} ${at.toFixed(4)}`);
    if (!state.playing) keep("way", state.away ? state.share.toFixed(4) : null);
  }, ["hidden", "faint", "stage", "view", "chosen", "section", "share", "away", "playing"]);
}
