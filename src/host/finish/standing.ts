/** Pictures that stand already: whether one is whole, how large it is, and of what it was made. */
import { type FileHandle, open } from 'node:fs/promises';
import type { PixelSize } from '../../core/finish/index.js';
import { readJpegHeader } from '../metadata/jpegHeader.js';
import { bufferSource } from '../metadata/source.js';

export interface StandingPicture {
  readonly size: PixelSize;
  /** What `inputsOf` said of it; null where it is no picture of ours. */
  readonly inputs: string | null;
}

/** Pictures of ours carry no thumbnail: profile and words end far before this. */
const HEAD_BYTES = 64 * 1024;

/** Null where there is no whole JPEG to be read, from its first marker to its last: it is then made again. */
export async function standingPicture(path: string): Promise<StandingPicture | null> {
  let file: FileHandle | null = null;
  try {
    file = await open(path, 'r');
    const { size: bytes } = await file.stat();
    const head = await readAt(file, 0, Math.min(bytes, HEAD_BYTES));
    const end = await readAt(file, Math.max(0, bytes - 2), 2);
    const size = end.equals(END_OF_IMAGE) ? (await readJpegHeader(bufferSource(head)))?.size : null;
    return size ? { size, inputs: inputsIn(head) } : null;
  } catch {
    return null;
  } finally {
    await file?.close();
  }
}

const inputsIn = (head: Buffer): string | null =>
  /<xmpMM:InstanceID>xmp\.iid:([0-9a-f]{16})</.exec(head.toString('latin1'))?.[1] ?? null;

const END_OF_IMAGE = Buffer.from([0xff, 0xd9]);

async function readAt(file: FileHandle, from: number, bytes: number): Promise<Buffer> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(bytes), 0, bytes, from);
  return buffer.subarray(0, bytesRead);
}
