/** Same-bike descriptor on pairs of cut-outs from two cameras (`reid-two-cameras/<name>_cam1.jpg`, `…_cam2.jpg`). */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describeBike } from '../../src/core/measure/describeBike.js';
import { wholeRect } from '../../src/core/measure/images.js';
import { type DescriptorParts, descriptorParts } from '../../src/core/measure/index.js';
import { maskSubject } from '../../src/core/measure/maskSubject.js';
import { fitDescriptorWhitening } from '../../src/core/measure/whitenDescriptors.js';
import { dot } from '../../src/core/numeric/linalg.js';
import type { Vision } from '../../src/host/vision/index.js';
import { decodePicture } from './measurePicture.js';
import type { Part } from './photos.js';

/** The crops hold one bike each, cut close: the whole picture is the box. */
async function describeCrop(vision: Vision, path: string): Promise<DescriptorParts> {
  const image = await decodePicture(path);
  const whole = [0, 0, 1, 1] as const;
  const mask = maskSubject(image, { what: 'motorcycle', box: whole, bikeBox: whole, score: 1, isCut: true });
  return descriptorParts(describeBike(mask, await vision.describe(image, wholeRect(image))));
}

/** Share of bikes whose nearest among the second camera's is themselves. */
export function rankOne(first: readonly Float32Array[], second: readonly Float32Array[]): number {
  const hits = first.filter((vector, own) => {
    const likeness = second.map((other) => dot(vector, other));
    return likeness.every((value, index) => index === own || value < likeness[own]!);
  });
  return hits.length / first.length;
}

export const sameBikeAccuracy: Part = async (vision, dataDir) => {
  const folder = join(dataDir, 'reid-two-cameras');
  if (!existsSync(folder)) return null;
  const pairs = readdirSync(folder)
    .filter((name) => name.includes('_cam1') && existsSync(join(folder, name.replace('_cam1', '_cam2'))))
    .sort();
  if (pairs.length === 0) return null;
  const first: DescriptorParts[] = [];
  const second: DescriptorParts[] = [];
  for (const name of pairs) {
    first.push(await describeCrop(vision, join(folder, name)));
    second.push(await describeCrop(vision, join(folder, name.replace('_cam1', '_cam2'))));
  }
  const whitened = fitDescriptorWhitening([...first, ...second]);
  const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
  const raw = (part: 'lab' | 'block9' | 'block13') =>
    percent(
      rankOne(
        first.map((parts) => parts[part]!),
        second.map((parts) => parts[part]!),
      ),
    );
  return {
    rows: [
      `two cameras: nearest is the same bike for ${percent(rankOne(first.map(whitened), second.map(whitened)))} of ${pairs.length}, whitened on these pictures (raw: Lab rows ${raw('lab')}, block 9 ${raw('block9')}, block 13 ${raw('block13')})`,
    ],
    figures: {},
  };
};
