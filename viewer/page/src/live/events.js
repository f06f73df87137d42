/**
 * What the server tells by itself: a file that changed on disk, that it ends, that it is gone.
 *
 * Where the connection breaks (a laptop that slept), it is tried again for a while.
 */

/** Breaks in a row after which the server counts as ended; the browser waits some seconds between. */
const MOST_BREAKS = 3;

/**
 * Listens to the server.
 * @param {string} address of its events
 * @param {{file: function, ends: function, broken: function, back: function}} heard
 * @returns {function} stops listening
 */
export function listening(address, heard) {
  const state = { breaks: 0, source: null, over: false };
  const close = () => {
    state.over = true;
    state.source.close();
  };
  const open = () => {
    state.source = new EventSource(address);
    state.source.addEventListener("file", (event) => heard.file(contentOf(event)));
    state.source.addEventListener("ends", (event) => {
      close();
      heard.ends(contentOf(event));
    });
    state.source.addEventListener("open", () => opened(state, heard));
    state.source.addEventListener("error", () => broken(state, heard, { open, close }));
  };
  open();
  return close;
}

function opened(state, heard) {
  if (state.breaks) heard.back();
  state.breaks = 0;
}

function broken(state, heard, { open, close }) {
  if (state.over) return;
  state.breaks += 1;
  if (state.breaks >= MOST_BREAKS) {
    close();
    heard.ends({});
    return;
  }
  heard.broken();
  if (state.source.readyState === EventSource.CLOSED) setTimeout(() => state.over || open(), 1000);
}

/** What an event holds; nothing where it is no JSON. */
function contentOf(event) {
  try {
    return JSON.parse(event.data) ?? {};
  } catch {
    return {};
  }
}
