/** The size written in a proof that stands already. */
import { type FileHandle, open } from 'node:fs/promises';
import type { PixelSize } from '../../core/finish/index.js';
import { readJpegHeader } from '../metadata/jpegHeader.js';
import { bufferSource } from '../metadata/source.js';

/** Proofs carry no thumbnail: profile and words end far before this. */
const HEAD_BYTES = 64 * 1024;

/** Null where there is no whole JPEG to be read, from its first marker to its last: it is then made again. */
export async function proofSizeOnDisk(path: string): Promise<PixelSize | null> {
  let file: FileHandle | null = null;
  try {
    file = await open(path, 'r');
    const { size } = await file.stat();
    const head = await readAt(file, 0, Math.min(size, HEAD_BYTES));
    const end = await readAt(file, Math.max(0, size - 2), 2);
    return end.equals(END_OF_IMAGE) ? ((await readJpegHeader(bufferSource(head)))?.size ?? null) : null;
  } catch {
    return null;
  } finally {
    await file?.close();
  }
}

const END_OF_IMAGE = Buffer.from([0xff, 0xd9]);

async function readAt(file: FileHandle, from: number, bytes: number): Promise<Buffer> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(bytes), 0, bytes, from);
  return buffer.subarray(0, bytesRead);
}
