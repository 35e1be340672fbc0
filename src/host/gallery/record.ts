/** Which proof each picture of an edition was made of. Lies beside the edition's folder, never in it. */
import { readFile } from 'node:fs/promises';
import { z } from 'zod';
import { writeAtomically } from '../finish/index.js';

/** Raised when small pictures or faces would come out otherwise. */
const IMAGES_VERSION = 2;
const recordFile = z.object({ v: z.literal(IMAGES_VERSION), images: z.record(z.string(), z.string()) });

/** Public path → name of the proof. What cannot be read is made anew. */
export type ImageRecord = Map<string, string>;

export async function readRecord(path: string): Promise<ImageRecord> {
  try {
    return new Map(Object.entries(recordFile.parse(JSON.parse(await readFile(path, 'utf8'))).images));
  } catch {
    return new Map();
  }
}

export async function writeRecord(path: string, images: ImageRecord): Promise<void> {
  const sorted = Object.fromEntries([...images].sort(([a], [b]) => (a < b ? -1 : 1)));
  await writeAtomically(path, `${JSON.stringify({ v: IMAGES_VERSION, images: sorted }, null, 1)}\n`);
}
