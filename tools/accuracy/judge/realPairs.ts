/** Pairs of real frames, where they are present: clips by eye, race pictures beside themselves after one known step. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { type Judged, orderByWorth } from '../../../src/core/judge/index.js';
import type { RgbImage } from '../../../src/core/measure/index.js';
import type { Box } from '../../../src/core/measure/types.js';
import type { Vision } from '../../../src/host/vision/index.js';
import { readLabels } from '../labels.js';
import { afterStep, STEPS, type Step } from './changedPairs.js';
import { judgeAt, largestBike } from './judgeAt.js';
import { SEEN_PAIRS } from './seenPairs.js';

export interface Agreed {
  readonly about: string;
  readonly isRight: boolean;
}

const MOST_RACE_PICTURES = 16;

export async function realPairs(vision: Vision, data: string): Promise<readonly Agreed[]> {
  return [...(await clipPairs(vision, data)), ...(await changedPairs(vision, data))];
}

export const isFirstBetter = (better: Judged | null, worse: Judged | null): boolean =>
  better !== null && worse !== null && orderByWorth([worse, better])[0]!.index === 1;

async function clipPairs(vision: Vision, data: string): Promise<readonly Agreed[]> {
  if (!existsSync(join(data, 'clips'))) return [];
  const judged = new Map<string, Judged | null>();
  for (const name of new Set(SEEN_PAIRS.flatMap(({ better, worse }) => [better, worse]))) {
    const image = await readPicture(join(data, name));
    const mask = await boxOfMask(join(data, name.replace('/frames/', '/masks/').replace('.jpg', '.png')));
    judged.set(name, await judgeAt(vision, image, mask));
  }
  return SEEN_PAIRS.map(({ better, worse, about }) => ({
    about: `clips, ${about}`,
    isRight: isFirstBetter(judged.get(better) ?? null, judged.get(worse) ?? null),
  }));
}

async function changedPairs(vision: Vision, data: string): Promise<readonly Agreed[]> {
  const folder = join(data, 'race-photos');
  const labels = readLabels(folder);
  const alone = (labels?.rows ?? []).filter(({ bikes, scene }) => bikes === '1' && scene === 'track');
  const agreed: Agreed[] = [];
  for (const { file } of alone.slice(0, MOST_RACE_PICTURES)) {
    const image = await readPicture(join(folder, file!));
    const box = await largestBike(vision, image);
    if (!box) continue;
    const asItIs = await judgeAt(vision, image, box);
    for (const step of STEPS) {
      const changed = await judgeAt(vision, await afterStep(image, step, box), boxAfter(step, box));
      agreed.push({ about: `race pictures, ${step}`, isRight: isFirstBetter(asItIs, changed) });
    }
  }
  return agreed;
}

/** Only a cut moves the bike: what is left of it begins at the edge. */
function boxAfter(step: Step, box: Box): Box {
  if (step !== 'cut') return box;
  const gone = box[0] + 0.1 * box[2];
  return [0, box[1], (0.9 * box[2]) / (1 - gone), box[3]];
}

export async function readPicture(path: string): Promise<RgbImage> {
  const { data, info } = await sharp(path)
    .flatten({ background: '#808080' })
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

export async function boxOfMask(path: string): Promise<Box> {
  const { data, info } = await sharp(path).greyscale().raw().toBuffer({ resolveWithObject: true });
  let [x0, y0, x1, y1] = [info.width, info.height, -1, -1];
  for (let at = 0; at < data.length; at += 1) {
    if (data[at] === 0) continue;
    const [x, y] = [at % info.width, Math.floor(at / info.width)];
    [x0, y0, x1, y1] = [Math.min(x0, x), Math.min(y0, y), Math.max(x1, x), Math.max(y1, y)];
  }
  return [x0 / info.width, y0 / info.height, (x1 + 1 - x0) / info.width, (y1 + 1 - y0) / info.height];
}
