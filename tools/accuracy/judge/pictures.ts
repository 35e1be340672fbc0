/** The frames of the pairs, rendered once and kept beside the system's other temporary files, under what they were drawn by. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { render, type Shot } from '../../../demo/render/frame.js';
import type { RgbImage } from '../../../src/core/measure/index.js';
import type { Box } from '../../../src/core/measure/types.js';
import { type Burst, frameOf } from './bursts.js';
import type { FrameName } from './pairs.js';

export interface Drawn {
  readonly image: RgbImage;
  /** Of the burst's bike. */
  readonly box: Box;
}

const RENDERER = 'demo/render';
const SUB_FRAMES = 5;
const QUALITY = 92;

/** Another renderer draws other pictures. */
const drawnBy = (): string => {
  const hash = createHash('sha256');
  for (const name of readdirSync(RENDERER).sort()) hash.update(readFileSync(join(RENDERER, name)));
  return hash.digest('hex').slice(0, 12);
};
const folder = join(tmpdir(), `tyrewall-judged-frames-${drawnBy()}`);

export const drawn = async (name: FrameName): Promise<Drawn> => drawnShot(await shotOf(name));

/** What the renderer is asked for. */
export async function shotOf({ burst, change }: FrameName): Promise<Shot> {
  return change === 'none' ? burst.base : frameOf(burst, change, (await drawnBase(burst)).box);
}

/** Every change hangs on where the bike lies in the unchanged frame. */
const drawnBase = (burst: Burst): Promise<Drawn> => drawnShot(burst.base);

/** A shot is always asked for with as many moments of its exposure: they are not part of what it is kept under. */
export async function drawnShot(shot: Shot, subFrames = SUB_FRAMES): Promise<Drawn> {
  const stem = join(folder, createHash('sha256').update(JSON.stringify(shot)).digest('hex').slice(0, 24));
  if (!existsSync(`${stem}.json`)) await draw(shot, stem, subFrames);
  const { data, info } = await sharp(`${stem}.jpg`).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  const box = JSON.parse(readFileSync(`${stem}.json`, 'utf8')) as Box;
  return { image: { data, width: info.width, height: info.height }, box };
}

async function draw(shot: Shot, stem: string, subFrames: number): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const { pixels, boxes } = render(shot, { subFrames });
  const box = boxes[0];
  if (!box)
    throw new Error(`Expected the bike in the picture of seed ${shot.seed}, but it is outside; mend the change.`);
  const raw = { width: shot.width, height: shot.height, channels: 3 } as const;
  const part = `${stem}.${process.pid}.part`;
  await sharp(Buffer.from(pixels.buffer), { raw }).jpeg({ quality: QUALITY, chromaSubsampling: '4:4:4' }).toFile(part);
  renameSync(part, `${stem}.jpg`);
  writeFileSync(part, JSON.stringify(box));
  renameSync(part, `${stem}.json`);
}
