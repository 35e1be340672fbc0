/**
 * Reads a file and hashes it, past the page cache where the system can: with `O_DIRECT` the bytes come from the disk,
 * not from the memory they were just written to. Where it cannot, the answer says so.
 */
import { constants } from 'node:fs';
import type { HashKind } from '../../core/bringin/manifestTypes.js';
import { blockBytes, sharedBuffers } from './buffers.js';
import type { Disk, OpenFile } from './disk.js';
import { codeOf } from './errors.js';
import { giveBackHasher, takeHasher } from './hashing.js';

export interface ReadBack {
  readonly bytes: number;
  /** One value for each kind asked for. */
  readonly hashes: ReadonlyMap<HashKind, string>;
  /** Absent when the bytes came from the disk itself. */
  readonly notPastCache?: string;
}

const direct = (constants as { readonly O_DIRECT?: number }).O_DIRECT;
const cannot = 'this system cannot read past its memory';

export async function readBack(
  disk: Disk,
  path: string,
  kinds: readonly HashKind[],
  onBytes: (bytes: number) => void = () => undefined,
  signal?: AbortSignal,
): Promise<ReadBack> {
  if (direct === undefined) return { ...(await readWith(disk, path, 0, kinds, onBytes, signal)), notPastCache: cannot };
  try {
    return await readWith(disk, path, direct, kinds, onBytes, signal);
  } catch (error) {
    if (!['EINVAL', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS'].includes(codeOf(error))) throw error;
    return {
      ...(await readWith(disk, path, 0, kinds, onBytes, signal)),
      notPastCache: 'this disk cannot be read past the memory',
    };
  }
}

async function readWith(
  disk: Disk,
  path: string,
  extraFlag: number,
  kinds: readonly HashKind[],
  onBytes: (bytes: number) => void,
  signal: AbortSignal | undefined,
): Promise<ReadBack> {
  const file = await disk.open(path, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | extraFlag);
  const hashers = await Promise.all(kinds.map(takeHasher));
  try {
    const bytes = await readThrough(file, extraFlag !== 0, (chunk) => {
      signal?.throwIfAborted();
      for (const hasher of hashers) hasher.update(chunk);
      onBytes(chunk.length);
    });
    return { bytes, hashes: new Map(kinds.map((kind, index) => [kind, hashers[index]!.digest()])) };
  } finally {
    for (const [index, kind] of kinds.entries()) giveBackHasher(kind, hashers[index]!);
    await file.close();
  }
}

/** Reads to the end, one buffer ahead of `use`. Resolves with the bytes read. */
async function readThrough(file: OpenFile, isDirect: boolean, use: (chunk: Uint8Array) => void): Promise<number> {
  const pool = sharedBuffers();
  let position = 0;
  for (;;) {
    const buffer = await pool.take();
    try {
      const length = await fill(file, buffer, position, isDirect);
      use(buffer.subarray(0, length));
      position += length;
      if (length < buffer.length) return position;
    } finally {
      pool.giveBack(buffer);
    }
  }
}

/** Fills the buffer as far as the file goes. Under `O_DIRECT` a read that ends off a block's edge was the last. */
export async function fill(file: OpenFile, buffer: Uint8Array, position: number, isDirect = false): Promise<number> {
  let length = 0;
  while (length < buffer.length) {
    const { bytesRead } = await file.read(buffer, length, buffer.length - length, position + length);
    length += bytesRead;
    if (bytesRead === 0 || (isDirect && length % blockBytes !== 0)) break;
  }
  return length;
}
