/** What a close look says of limb and head, and how far a bike leans, against riders whose truth is known. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Judged } from '../../../src/core/judge/index.js';
import type { Vision } from '../../../src/host/vision/index.js';
import { judgeAt, largestBike } from './judgeAt.js';
import { leanRow } from './leanAndSide.js';
import { drawnShot } from './pictures.js';
import { readPicture } from './realPairs.js';
import { type RIDER_SETS, riderScenes, truthOf } from './riderScenes.js';
import { seenRiders } from './seenRiders.js';

/** Of short exposures; fewer are quicker. */
const SUB_FRAMES = 4;

interface Said {
  readonly truth: string | null;
  readonly isSaid: boolean;
}

/** Some seconds for each model of a rider the first time. */
export async function riderRows(
  vision: Vision,
  data: string,
  seeds: keyof typeof RIDER_SETS,
): Promise<readonly string[]> {
  const scenes = riderScenes(seeds);
  const judged: { readonly truth: ReturnType<typeof truthOf>; readonly judged: Judged | null }[] = [];
  for (const scene of scenes) {
    const { image, box } = await drawnShot(scene.shot, SUB_FRAMES);
    judged.push({ truth: truthOf(scene), judged: await judgeAt(vision, image, box) });
  }
  const head = judged.map((one): Said => ({ truth: one.truth.head, isSaid: one.judged?.head.kind === 'towards' }));
  const limb = judged.map((one): Said => ({ truth: one.truth.limb, isSaid: one.judged?.limb.kind === 'out' }));
  return [
    row('face to the camera, renders', 'towards', head),
    row('knee or elbow out, renders', 'out', limb),
    `riders: ${leanRow(judged.map((one, at) => ({ shot: scenes[at]!.shot, judged: one.judged })))}`,
    ...(await realRows(vision, join(data, 'race-photos'))),
  ];
}

async function realRows(vision: Vision, folder: string): Promise<readonly string[]> {
  if (!existsSync(folder)) return [`face to the camera, real: SKIPPED, no pictures in ${folder}`];
  const [heads, knees] = [seenRiders('head'), seenRiders('knee')];
  const asked = readdirSync(folder).filter((file) => heads.has(numberOf(file)) || knees.has(numberOf(file)));
  const head: Said[] = [];
  const limb: Said[] = [];
  for (const file of asked) {
    const image = await readPicture(join(folder, file));
    const box = await largestBike(vision, image);
    const judged = box && (await judgeAt(vision, image, box));
    head.push({ truth: heads.get(numberOf(file)) ?? null, isSaid: judged?.head.kind === 'towards' });
    limb.push({ truth: knees.get(numberOf(file)) ?? null, isSaid: judged?.limb.kind === 'out' });
  }
  return [row('face to the camera, real', 'towards', head), row('knee or elbow out, real', 'out', limb)];
}

/** Pictures are called by a number with noughts before it. */
const numberOf = (file: string): string => String(Number.parseInt(file, 10));

function row(what: string, wanted: string, all: readonly Said[]): string {
  const known = all.filter(({ truth }) => truth !== null);
  const said = known.filter(({ isSaid }) => isSaid);
  const right = said.filter(({ truth }) => truth === wanted).length;
  const could = known.filter(({ truth }) => truth === wanted).length;
  const between = all.filter(({ truth, isSaid }) => truth === null && isSaid).length;
  return `${what}: right ${right} of ${said.length} said, ${could} could be said, of ${known.length}; ${between} more said where the truth lies between`;
}
