/**
 * Roll call: one walks along the bikes that stand at the noise test or in the holding area and photographs each. Pictures that
 * follow one another may show one bike twice, but nobody comes back to it; so each bike large in the frame that is not its
 * neighbour's is one more. One that looks like a bike further back is perhaps its twin, perhaps the stretch was no roll: that
 * is said by the range. It gives a look of each bike, close and sharp, and the head count as a range.
 */
import type { FrameId } from '../../ids.js';
import type { WallMs } from '../../units.js';
import type { Subject } from '../types.js';

export interface RollCall {
  readonly group: string;
  readonly from: WallMs;
  readonly to: WallMs;
}

export interface RollCallFrame {
  readonly frameId: FrameId;
  /** Corrected. */
  readonly at: WallMs;
  readonly subjects: readonly Subject[];
}

export interface ReferenceLook {
  readonly frameId: FrameId;
  readonly subject: number;
}

export interface RollCalled {
  readonly group: string;
  readonly from: WallMs;
  /** One of each bike, the largest it is seen. */
  readonly looks: readonly ReferenceLook[];
  /** Bikes are at least so many, where all that may be one are one, and at most so many, where none is. */
  readonly least: number;
  readonly most: number;
}

/** `no`: surely two bikes; `perhaps`: nobody could tell. */
export type IsOneBike = (a: Subject, b: Subject) => 'yes' | 'perhaps' | 'no';

/** A bike smaller than this share of the frame's height stands behind the one that is meant. */
const LEAST_HEIGHT = 0.3;

export function callRoll(
  { group, from, to }: RollCall,
  frames: readonly RollCallFrame[],
  isOneBike: IsOneBike,
): RollCalled {
  const seen = frames
    .filter(({ at }) => at >= from && at <= to)
    .toSorted((a, b) => a.at - b.at)
    .map(({ frameId, subjects }) => ({ frameId, bikes: largeBikes(subjects) }));
  const looks: { look: ReferenceLook; bike: Subject }[] = [];
  let perhaps = 0;
  seen.forEach(({ frameId, bikes }, place) => {
    const before = seen[place - 1]?.bikes ?? [];
    for (const { bike, index } of bikes) {
      const answers = before.map((one) => isOneBike(one.bike, bike));
      if (answers.includes('yes')) keepLarger(looks, { look: { frameId, subject: index }, bike }, isOneBike);
      else {
        const isSeenBefore = looks.some((one) => isOneBike(one.bike, bike) === 'yes');
        if (answers.includes('perhaps') || isSeenBefore) perhaps += 1;
        looks.push({ look: { frameId, subject: index }, bike });
      }
    }
  });
  return { group, from, looks: looks.map(({ look }) => look), least: looks.length - perhaps, most: looks.length };
}

const largeBikes = (subjects: readonly Subject[]) =>
  subjects
    .map((bike, index) => ({ bike, index }))
    .filter(({ bike: { what, box } }) => what === 'motorcycle' && box[3] >= LEAST_HEIGHT);

type Look = { look: ReferenceLook; bike: Subject };

function keepLarger(looks: Look[], again: Look, isOneBike: IsOneBike): void {
  const place = looks.findLastIndex(({ bike }) => isOneBike(bike, again.bike) === 'yes');
  const size = ({ box }: Subject) => box[2] * box[3];
  if (place >= 0 && size(again.bike) > size(looks[place]!.bike)) looks[place] = again;
}
