/** Random access to a file's bytes with its beginning kept, so that a header costs one read of the disk. */
import type { FileHandle } from 'node:fs/promises';

/** Enough for the Exif, MPF and colour profile segments of every camera file seen; longer headers are read on. */
export const HEAD_BYTES = 256 * 1024;

export interface ByteSource {
  readonly size: number;
  /** Fewer bytes than asked for, or none, where the source ends. Never throws for a bad offset. */
  read(offset: number, length: number): Promise<Buffer>;
}

/** Part of a buffer as a source of its own; offsets count from `base`. */
export const bufferSource = (buffer: Buffer, base = 0): ByteSource => ({
  size: Math.max(0, buffer.length - base),
  read: async (offset, length) =>
    offset < 0 ? Buffer.alloc(0) : buffer.subarray(base + offset, base + offset + length),
});

/** A part of another source whose offsets count from `base`, as those of a TIFF header inside a file do. */
export const offsetSource = (source: ByteSource, base: number): ByteSource => ({
  size: Math.max(0, source.size - base),
  read: (offset, length) => (offset < 0 ? Promise.resolve(Buffer.alloc(0)) : source.read(base + offset, length)),
});

export const fileSource = async (handle: FileHandle, size: number): Promise<ByteSource> => {
  const head = await readExactly(handle, 0, Math.min(size, HEAD_BYTES));
  return {
    size,
    read: async (offset, length) => {
      if (offset < 0 || offset >= size || length <= 0) return Buffer.alloc(0);
      const end = Math.min(size, offset + length);
      return end <= head.length ? head.subarray(offset, end) : readExactly(handle, offset, end - offset);
    },
  };
};

const readExactly = async (handle: FileHandle, offset: number, length: number): Promise<Buffer> => {
  const buffer = Buffer.allocUnsafe(length);
  let filled = 0;
  while (filled < length) {
    const { bytesRead } = await handle.read(buffer, filled, length - filled, offset + filled);
    if (bytesRead === 0) break;
    filled += bytesRead;
  }
  return buffer.subarray(0, filled);
};
