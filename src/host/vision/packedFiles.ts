/**
 * Several files kept as one, so that what two of them hold alike is there once: a line of JSON with the bytes of each by its
 * name, then the files one after the other, all in Brotli (RFC 7932).
 */
import { brotliCompressSync, constants } from 'node:zlib';

export function packFiles(files: ReadonlyMap<string, Uint8Array>): Buffer {
  const sizes = Object.fromEntries([...files].map(([name, bytes]) => [name, bytes.length]));
  const whole = Buffer.concat([Buffer.from(`${JSON.stringify(sizes)}\n`), ...files.values()]);
  return brotliCompressSync(whole, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
      // A second model's weights are to be found in the first, megabytes before.
      [constants.BROTLI_PARAM_LGWIN]: constants.BROTLI_MAX_WINDOW_BITS,
      [constants.BROTLI_PARAM_SIZE_HINT]: whole.length,
    },
  });
}

/** @param packed decompressed */
export function unpackFiles(packed: Buffer): ReadonlyMap<string, Buffer> {
  const line = packed.indexOf('\n');
  const sizes = Object.entries(JSON.parse(packed.toString('utf8', 0, line)) as Record<string, number>);
  let at = line + 1;
  return new Map(
    sizes.map(([name, bytes]) => {
      at += bytes;
      return [name, packed.subarray(at - bytes, at)];
    }),
  );
}
