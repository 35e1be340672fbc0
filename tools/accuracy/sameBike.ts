/** Same-bike descriptor on pairs of cut-outs from two cameras (`reid-two-cameras/<name>_cam1.jpg`, `…_cam2.jpg`). */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describeBike } from '../../src/core/measure/describeBike.js';
import type { RgbImage } from '../../src/core/measure/images.js';
import { type DescriptorParts, descriptorParts } from '../../src/core/measure/index.js';
import { maskSubject } from '../../src/core/measure/maskSubject.js';
import { centredByPlace, fitDescriptorWhitening } from '../../src/core/measure/whitenDescriptors.js';
import { dot } from '../../src/core/numeric/linalg.js';
import type { Vision } from '../../src/host/vision/index.js';
import { isFolder } from './labelled.js';
import { decodePicture } from './measurePicture.js';
import type { Part } from './part.js';

/** The crops hold one bike each, cut close: the whole picture is the box. */
async function describeCrop(vision: Vision, image: RgbImage): Promise<DescriptorParts> {
  const whole = [0, 0, 1, 1] as const;
  const { parts, features } = await vision.lookAtBike(image, whole);
  const subject = { what: 'motorcycle', box: whole, bikeBox: whole, score: 1, isCut: true } as const;
  return descriptorParts(describeBike(maskSubject(image, subject, parts), features));
}

/** Adds to `times` how long each took, in ms. A sentence where one of the two pictures cannot be read; whatever goes wrong in describing is the program's fault. */
async function describePair(
  vision: Vision,
  folder: string,
  name: string,
  times: number[],
): Promise<readonly [DescriptorParts, DescriptorParts] | string> {
  const names = [name, name.replace('_cam1', '_cam2')] as const;
  const images: RgbImage[] = [];
  for (const one of names) {
    try {
      images.push(await decodePicture(join(folder, one)));
    } catch (error) {
      return `expected pictures in ${names.join(' and ')}, but ${one} cannot be read (${(error as Error).message})`;
    }
  }
  const described: DescriptorParts[] = [];
  for (const image of images) {
    const from = performance.now();
    described.push(await describeCrop(vision, image));
    times.push(performance.now() - from);
  }
  return [described[0]!, described[1]!];
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
  if (!isFolder(folder)) return null;
  const pairs = readdirSync(folder)
    .filter((name) => name.includes('_cam1') && existsSync(join(folder, name.replace('_cam1', '_cam2'))))
    .sort();
  if (pairs.length === 0) return null;
  const first: DescriptorParts[] = [];
  const second: DescriptorParts[] = [];
  const troubles: string[] = [];
  const times: number[] = [];
  for (const name of pairs) {
    const both = await describePair(vision, folder, name, times);
    if (typeof both === 'string') troubles.push(`  not counted: ${both}`);
    else {
      first.push(both[0]);
      second.push(both[1]);
    }
  }
  if (first.length < 2)
    return { rows: ['two cameras: fewer than two pairs could be measured', ...troubles], figures: {} };
  const whitened = fitDescriptorWhitening([...first, ...second]);
  const joint = centredByPlace([...first, ...second].map(whitened), [
    ...first.map(() => 'first camera'),
    ...second.map(() => 'second camera'),
  ]);
  const [one, other] = [joint.slice(0, first.length), joint.slice(first.length)];
  const [nearest, told] = [rankOne(one, other), truePositivesAt(FALSE_SHARE, one, other)];
  const ms = median(times);
  const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
  const raw = (part: keyof DescriptorParts) =>
    percent(
      rankOne(
        first.map((parts) => parts[part]!),
        second.map((parts) => parts[part]!),
      ),
    );
  const unit = `of ${first.length} pairs`;
  return {
    rows: [
      `two cameras: nearest is the same bike for ${percent(nearest)} of ${first.length}, whitened on these pictures and centred by camera (raw: Lab bands ${raw('lab')}, taught ${raw('taught')}, block 9 ${raw('block9')}, block 13 ${raw('block13')}); ${percent(told)} told where 1 % of strangers are taken for the same; ${ms.toFixed(1)} ms a bike`,
      ...troubles,
    ],
    figures: {
      'reid.rank1': { value: nearest, unit, better: 'higher', note: 'two cameras' },
      'reid.truePositiveAt1PercentFalse': { value: told, unit, better: 'higher' },
      'reid.ms': { value: ms, unit: 'ms', better: 'lower', note: 'median of a bike: network, mask and descriptor' },
    },
  };
};

const FALSE_SHARE = 0.01;

/** Share of the true pairs that are more alike than all but `falseShare` of the wrong ones. */
export function truePositivesAt(
  falseShare: number,
  first: readonly Float32Array[],
  second: readonly Float32Array[],
): number {
  const wrong = first.flatMap((a, i) => second.flatMap((b, j) => (i === j ? [] : [dot(a, b)]))).sort((a, b) => b - a);
  const limit = wrong[Math.floor(falseShare * wrong.length)] ?? Number.NEGATIVE_INFINITY;
  return first.filter((a, i) => dot(a, second[i]!) > limit).length / first.length;
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
