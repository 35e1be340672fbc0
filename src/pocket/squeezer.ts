/** Raw DEFLATE by the browser's own streams. */
import type { Squeezer } from '../core/plan/pocket/index.js';

export const browserSqueezer: Squeezer = {
  squeeze: (bytes) => through(bytes, new CompressionStream('deflate-raw'), Number.POSITIVE_INFINITY),
  unsqueeze: (bytes, most) => through(bytes, new DecompressionStream('deflate-raw'), most),
};

async function through(bytes: Uint8Array, stream: CompressionStream | DecompressionStream, most: number) {
  const writer = stream.writable.getWriter();
  // What goes wrong comes out of the reading side; the writing side would say it a second time.
  writer.write(bytes as BufferSource).catch(() => undefined);
  writer.close().catch(() => undefined);
  const parts: Uint8Array[] = [];
  let length = 0;
  const reader = stream.readable.getReader();
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    parts.push(part.value);
    length += part.value.length;
    if (length > most) {
      await reader.cancel();
      throw new RangeError(`Expected at most ${most} bytes but there are more.`);
    }
  }
  return join(parts, length);
}

function join(parts: readonly Uint8Array[], length: number): Uint8Array {
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
