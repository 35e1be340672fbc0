/** Three frames of a pass in quick succession around one of them, by their small pictures. */
import { join } from 'node:path';
import type { Arrangement, BikeRef } from '../../core/arrange/types.js';
import { bikeKeyOf, subjectOf } from '../../core/cover/index.js';
import type { FrameId } from '../../core/ids.js';
import { MOST_BETWEEN_MS } from '../../core/judge/index.js';
import type { FrameMeasurement } from '../../core/measure/types.js';
import type { EpochMs } from '../../core/units.js';
import type { BurstFrame } from '../judge/index.js';

interface Then {
  readonly bike: BikeRef;
  readonly at: EpochMs;
}

/** By `bikeKeyOf`; bikes of slower bursts are not among them. */
export function burstsOfPasses({ passes, exposures }: Arrangement): ReadonlyMap<string, readonly Then[]> {
  const instants = new Map(exposures.map(({ frameId, instant }) => [frameId, instant]));
  const bursts = new Map<string, readonly Then[]>();
  for (const { bikes } of passes) {
    const inTime = bikes
      .flatMap((bike): readonly Then[] => {
        const at = instants.get(bike.frameId);
        return at === undefined || at === null ? [] : [{ bike, at }];
      })
      .sort((a, b) => a.at - b.at);
    for (const [k, { bike }] of inTime.entries()) {
      const quick = [k - 1, k, k - 2].map((from) => inTime.slice(Math.max(0, from), from + 3)).find(isQuick);
      if (quick) bursts.set(bikeKeyOf(bike), quick);
    }
  }
  return bursts;
}

const isQuick = (frames: readonly Then[]): boolean =>
  frames.length === 3 &&
  frames.slice(1).every(({ at }, k) => at > frames[k]!.at && at - frames[k]!.at <= MOST_BETWEEN_MS);

/** Empty where one of them was not measured. */
export function burstFrames(
  frames: readonly Then[],
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
  pictureFolder: string,
): readonly BurstFrame[] {
  const known = frames.flatMap(({ bike, at }): readonly BurstFrame[] => {
    const subject = subjectOf(bike, pixels);
    const measured = pixels.get(bike.frameId);
    if ('kind' in subject || measured?.kind !== 'measured') return [];
    const boxes = measured.subjects.map(({ box }) => box);
    return [{ picture: join(pictureFolder, `${bike.frameId}.jpg`), at, box: subject.box, boxes }];
  });
  return known.length === frames.length ? known : [];
}
