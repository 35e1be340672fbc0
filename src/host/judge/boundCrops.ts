/** Keeps the crops within a bound: frames that nobody chose go first, those looked at longest ago before the others. */
import { readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** For a day of 24-megapixel frames: about a megabyte a bike, so that all keepers and most of what stands beside them stays. */
export const MOST_CROP_BYTES = 4 * 1024 ** 3;
/** Emptied to this share, so that it is not swept for every further crop. */
const DOWN_TO = 0.9;

interface FrameFolder {
  readonly frame: string;
  readonly bytes: number;
  readonly usedMs: number;
}

/** @returns frames whose crops were thrown away */
export async function boundCrops(
  folder: string,
  isChosen: (frame: string) => boolean,
  mostBytes = MOST_CROP_BYTES,
): Promise<readonly string[]> {
  const frames = await readdir(folder).catch(() => [] as string[]);
  const folders: FrameFolder[] = [];
  for (const frame of frames) folders.push(await sizeOf(folder, frame));
  let bytes = folders.reduce((sum, one) => sum + one.bytes, 0);
  if (bytes <= mostBytes) return [];
  const order = folders
    .map((one) => ({ ...one, chosen: isChosen(one.frame) ? 1 : 0 }))
    .sort((a, b) => a.chosen - b.chosen || a.usedMs - b.usedMs);
  const gone: string[] = [];
  for (const one of order) {
    if (bytes <= DOWN_TO * mostBytes) break;
    await rm(join(folder, one.frame), { recursive: true, force: true });
    bytes -= one.bytes;
    gone.push(one.frame);
  }
  return gone;
}

/** A frame's crops belong together: what was read last says when they were used. What vanishes meanwhile counts nothing. */
async function sizeOf(folder: string, frame: string): Promise<FrameFolder> {
  let [bytes, usedMs] = [0, 0];
  for (const name of await readdir(join(folder, frame)).catch(() => [] as string[])) {
    const about = await stat(join(folder, frame, name)).catch(() => null);
    if (about === null) continue;
    bytes += about.size;
    usedMs = Math.max(usedMs, about.mtimeMs, about.atimeMs);
  }
  return { frame, bytes, usedMs };
}
