/** What a close look says of lean and side, against the renderer's truth and against clips whose way is plain to see. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import type { Shot } from '../../../demo/render/frame.js';
import { type Judged, SIDE_EDGE_PX, type SmallFrame } from '../../../src/core/judge/index.js';
import { tellSide } from '../../../src/core/judge/tellSide.js';
import { epochMsOf } from '../../../src/core/units.js';
import { boxOfMask } from './realPairs.js';

/** How far a bike's own upright leans in its picture. */
export function leanInPicture({ azimuthDeg, bikes }: Shot): number {
  const lean = (bikes[0]!.leanDeg * Math.PI) / 180;
  const azimuth = (azimuthDeg * Math.PI) / 180;
  return (Math.atan2(-Math.sin(lean) * Math.cos(azimuth), Math.cos(lean)) * 180) / Math.PI;
}

export function leanRow(frames: readonly { readonly shot: Shot; readonly judged: Judged | null }[]): string {
  const off = frames.flatMap(({ shot, judged }) =>
    judged?.lean.kind === 'lean' ? [Math.abs(judged.lean.leanDeg - leanInPicture(shot))] : [],
  );
  if (off.length === 0) return `lean is said of none of ${frames.length} rendered frames`;
  const sorted = [...off].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)]!;
  return `lean is said of ${off.length} of ${frames.length} rendered frames, those seen from ahead or behind: middle error ${middle.toFixed(1)}°, most ${sorted.at(-1)!.toFixed(1)}°`;
}

/** Both clips head left, at 24 frames a second. */
const CLIPS = [
  ['motocross-jump', 40],
  ['scooter-black', 43],
] as const;
const CLIP_MS = 1000 / 24;

export async function sideRow(data: string): Promise<string> {
  if (!existsSync(join(data, 'clips'))) return `side seen: SKIPPED, no clips in ${data}`;
  const told = { right: 0, wrong: 0, absent: 0 };
  for (const [clip, frames] of CLIPS) {
    const small = await Promise.all(Array.from({ length: frames }, (_, k) => smallFrame(join(data, 'clips', clip), k)));
    for (let k = 0; k + 3 <= frames; k += 1) {
      const side = tellSide(small.slice(k, k + 3));
      told[side.kind === 'absent' ? 'absent' : side.is === 'left' ? 'right' : 'wrong'] += 1;
    }
  }
  return `side seen on clips: ${told.right} right, ${told.wrong} wrong, of ${told.absent} nothing is said`;
}

async function smallFrame(folder: string, k: number): Promise<SmallFrame> {
  const name = String(k).padStart(5, '0');
  const { data, info } = await sharp(join(folder, 'frames', `${name}.jpg`))
    .greyscale()
    .resize(SIDE_EDGE_PX)
    .raw()
    .toBuffer({ resolveWithObject: true });
  const box = await boxOfMask(join(folder, 'masks', `${name}.png`));
  const picture = { data, width: info.width, height: info.height };
  return { at: epochMsOf(Math.round(k * CLIP_MS)), picture, box, boxes: [box] };
}
