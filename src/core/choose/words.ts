/** What a person said of bikes: keep or leave out. Their word always wins over what is proposed. Rules CH1–CH2. */
import type { Arrangement, BikeRef } from '../arrange/types.js';
import { bikeKeyOf, subjectOf } from '../cover/index.js';
import type { FileId, FrameId } from '../ids.js';
import {
  type BikePoint,
  causalityOf,
  type Decision,
  type FoldedLog,
  type KeepStatement,
  lastWord,
} from '../log/index.js';
import type { Box, FrameMeasurement } from '../measure/types.js';

/** `let-stand`: nobody said a word of it, but it was in a set that a person went through. */
export type Word = 'keep' | 'leave-out' | 'let-stand';

/** Per bike (`bikeKeyOf`) the word that stands. A word on one file holds for its whole exposure. */
export function wordsOf(
  arrangement: Arrangement,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
  log: FoldedLog,
  bikesAt: BikesAt = bikesPointedAt(arrangement, pixels),
): ReadonlyMap<string, Word> {
  const keepStatements = log.inForce.filter(isKeepStatement);
  const lookedThrough = log.inForce.flatMap(({ decision }) => (isLookedThrough(decision) ? [decision] : []));
  if (keepStatements.length + lookedThrough.length === 0) return new Map();
  const statements = new Map<string, KeepStatement[]>();
  for (const one of keepStatements)
    for (const bike of bikesAt(one.decision.file, one.decision.point)) {
      const said = statements.get(bikeKeyOf(bike));
      if (said === undefined) statements.set(bikeKeyOf(bike), [one]);
      else said.push(one);
    }
  const causality = causalityOf(log.lines);
  return new Map<string, Word>([
    ...lookedThrough.flatMap(standingIn(arrangement, bikesAt)).map((bike) => [bikeKeyOf(bike), 'let-stand'] as const),
    ...[...statements].map(([key, said]) => [key, lastWord(said, causality)!.decision.kind] as const),
  ]);
}

export type BikesAt = (file: FileId, point?: BikePoint) => readonly BikeRef[];

/** Finds the bikes of passes that a file, or a point in it, means: without a point all of the frame. */
export function bikesPointedAt(arrangement: Arrangement, pixels: ReadonlyMap<FrameId, FrameMeasurement>): BikesAt {
  const frameOf = new Map(
    arrangement.exposures.flatMap((one) => one.files.map((file) => [file, one.frameId] as const)),
  );
  const bikesOf = bikesByFrame(arrangement);
  const boxOf = (bike: BikeRef) => boxIn(bike, arrangement, pixels);
  return (file, point) => {
    const frame = frameOf.get(file);
    return meant(frame === undefined ? [] : (bikesOf.get(frame) ?? []), point, boxOf);
  };
}

const isKeepStatement = (one: FoldedLog['inForce'][number]): one is KeepStatement =>
  one.decision.kind === 'keep' || one.decision.kind === 'leave-out';

type GoneThrough = Extract<Decision, { kind: 'gone-through' }>;

const isLookedThrough = (decision: Decision): decision is GoneThrough =>
  decision.kind === 'gone-through' && decision.unseen !== true;

/** The bikes of that rider, not of others in the same pictures. */
function standingIn({ passes }: Arrangement, bikesAt: BikesAt): (said: GoneThrough) => readonly BikeRef[] {
  const riderOf = new Map(passes.flatMap(({ bikes, rider }) => bikes.map((bike) => [bike, rider] as const)));
  return ({ of, files }) => {
    const riders = new Set(bikesAt(of.file, of).map((bike) => riderOf.get(bike)));
    return files.flatMap((file) => bikesAt(file)).filter((bike) => riders.has(riderOf.get(bike)));
  };
}

function bikesByFrame(arrangement: Arrangement): ReadonlyMap<FrameId, BikeRef[]> {
  const bikes = new Map<FrameId, BikeRef[]>();
  for (const bike of arrangement.passes.flatMap((pass) => pass.bikes)) {
    const there = bikes.get(bike.frameId);
    if (there === undefined) bikes.set(bike.frameId, [bike]);
    else there.push(bike);
  }
  return bikes;
}

function boxIn(
  bike: BikeRef,
  arrangement: Arrangement,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
): Box | undefined {
  const subject = subjectOf(bike, pixels);
  return 'kind' in subject ? arrangement.saidBikes.find((said) => said.frameId === bike.frameId)?.box : subject.box;
}

/** Without a point the whole frame is meant; with one, the bike it points at, or else the nearest to it. */
function meant(
  bikes: readonly BikeRef[],
  point: BikePoint | undefined,
  boxOf: (bike: BikeRef) => Box | undefined,
): readonly BikeRef[] {
  if (!point) return bikes;
  const distances = bikes.map((bike) => ({ bike, distance: distanceTo(point, boxOf(bike)) }));
  return distances
    .sort((a, b) => a.distance - b.distance)
    .slice(0, 1)
    .map(({ bike }) => bike);
}

/** From the box's middle, in halves of the box, so that a point inside a small box beats one inside a large one. */
function distanceTo(point: BikePoint, box: Box | undefined): number {
  if (!box) return Number.POSITIVE_INFINITY;
  const [left, top, width, height] = box;
  const across = Math.abs(point.x - left - width / 2) / Math.max(width / 2, 1e-6);
  const down = Math.abs(point.y - top - height / 2) / Math.max(height / 2, 1e-6);
  return Math.max(across, down);
}
