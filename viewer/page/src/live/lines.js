/** Lines of JSON out of an answer that is still coming. */

/**
 * Each line as soon as it is whole.
 * @param {ReadableStream<Uint8Array>} body
 */
export async function* linesOf(body) {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  let pieces = [];
  try {
    for (;;) {
      const { done, value } = await reader.read();
      const text = done ? decoder.decode() : decoder.decode(value, { stream: true });
      const [first, ...others] = text.split("\n");
      pieces.push(first);
      for (const next of others) {
        const line = pieces.join("");
        pieces = [next];
        if (line.trim()) yield JSON.parse(line);
      }
      if (done) break;
    }
    const rest = pieces.join("");
    if (rest.trim()) yield JSON.parse(rest);
  } finally {
    reader.cancel().catch(() => {});
  }
}
