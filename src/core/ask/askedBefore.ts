/** Which two have been before a person already: whatever was answered, "can't tell" too, they are not asked again. */
import type { Pass } from '../arrange/types.js';
import type { FileId, FrameId, RiderKey } from '../ids.js';
import type { BikePoint, Decision } from '../log/types.js';
import type { Box } from '../measure/types.js';
import type { AskInput } from './types.js';

export interface AskedBefore {
  hasRiders(a: RiderKey, b: RiderKey): boolean;
  hasPass(pass: Pass, rider: RiderKey): boolean;
  /** A pass beside another of its own set. */
  hasInSet(pass: Pass): boolean;
}

const pairKey = (a: string, b: string): string => [a, b].sort().join(' | ');
const strayKey = ({ index }: Pass): string => `pass ${index}`;

export function askedBefore(input: AskInput): AskedBefore {
  const { arrangement, log } = input;
  const unsure = new Set(arrangement.unsure ?? []);
  // A pass counts as itself while it is in nobody's set, else as its rider.
  const keyOf = (pass: Pass): string => (unsure.has(pass.index) ? strayKey(pass) : pass.rider);
  const passAt = passFinder(input);
  const pairs = new Set<string>();
  const inSets = new Set<Pass>();
  for (const { decision } of log.inForce)
    for (const [a, b] of pairsShown(decision)) {
      const [one, other] = [passAt(a), passAt(b)];
      if (one === null || other === null) continue;
      pairs.add(pairKey(keyOf(one), keyOf(other)));
      if (one.rider === other.rider) inSets.add(other);
    }
  return {
    hasRiders: (a, b) => pairs.has(pairKey(a, b)),
    hasPass: (pass, rider) => pairs.has(pairKey(strayKey(pass), rider)),
    hasInSet: (pass) => inSets.has(pass),
  };
}

function* pairsShown(decision: Decision): Iterable<readonly [BikePoint, BikePoint]> {
  if (decision.kind === 'line-up') for (const shown of decision.shown) yield [decision.of, shown];
  if (decision.kind !== 'same-rider' && decision.kind !== 'different-riders') return;
  for (const [i, a] of decision.points.entries()) for (const b of decision.points.slice(0, i)) yield [a, b];
}

/** The pass of the bike a person pointed at: of those in that frame, the one whose box is nearest to the point. */
function passFinder({ arrangement, pixels }: AskInput): (point: BikePoint) => Pass | null {
  const frameOf = new Map<FileId, FrameId>();
  for (const { frameId, files } of arrangement.exposures) for (const file of files) frameOf.set(file, frameId);
  const inFrame = new Map<FrameId, { readonly pass: Pass; readonly box: Box | null }[]>();
  for (const pass of arrangement.passes)
    for (const { frameId, subject } of pass.bikes) {
      const frame = pixels.get(frameId);
      const box = frame?.kind === 'measured' ? (frame.subjects[subject]?.box ?? null) : null;
      const list = inFrame.get(frameId);
      if (list === undefined) inFrame.set(frameId, [{ pass, box }]);
      else list.push({ pass, box });
    }
  return ({ file, x, y }) => {
    const frame = frameOf.get(file);
    const bikes = frame === undefined ? [] : (inFrame.get(frame) ?? []);
    if (bikes.length === 0) return null;
    return bikes.reduce((best, bike) => (offCentre(bike.box, x, y) < offCentre(best.box, x, y) ? bike : best)).pass;
  };
}

const offCentre = (box: Box | null, x: number, y: number): number =>
  box === null ? 2 : Math.hypot(box[0] + box[2] / 2 - x, box[1] + box[3] / 2 - y);
