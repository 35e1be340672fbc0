/**
 * What is said when somebody asks to be taken down: one gesture that holds whatever happens to the arrangement later. The rider is
 * named by every id they go by, and each frame they are in now by its file. So neither a merge nor a split, another measuring or a
 * new edition brings back what was asked about, and passes found later follow the rider. Rules LW8, LW9.
 */
import type { Arrangement, BikeRef, Exposure, Rider } from '../../arrange/types.js';
import { ridersOfPersons } from '../../finish/index.js';
import type { FrameId, PersonId, RiderId, RiderKey } from '../../ids.js';
import type { MinorSaid } from '../../log/minorSaid.js';
import type { BikePoint, Decision, FoldedLog } from '../../log/types.js';
import type { FrameMeasurement } from '../../measure/types.js';

export type ToTakeDown =
  | { readonly kind: 'frames'; readonly frames: readonly FrameId[] }
  | { readonly kind: 'rider'; readonly rider: RiderKey }
  | { readonly kind: 'person'; readonly person: PersonId };

export interface TakeDownInput {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: Pick<FoldedLog, 'inForce'>;
  /** An id for a rider who has none. */
  readonly mint: () => RiderId;
}

export interface TakeDownPlan {
  /** Nothing where nothing is known under what was asked, but for a person, who may turn up later. */
  readonly decisions: readonly Decision[];
  readonly frames: readonly FrameId[];
  /** Of `frames` those in which another rider is seen, too: they go as well. */
  readonly shared: readonly FrameId[];
}

export function planTakeDown(what: ToTakeDown, input: TakeDownInput): TakeDownPlan {
  const riders = ridersMeant(what, input);
  const frames = what.kind === 'frames' ? what.frames : framesOf(riders, input.arrangement);
  const exposures = input.arrangement.exposures.filter(({ frameId }) => frames.includes(frameId));
  const person: readonly Decision[] = what.kind === 'person' ? [{ kind: 'take-down', person: what.person }] : [];
  return {
    decisions: [
      ...person,
      ...riders.flatMap((rider) => ofRider(rider, input)),
      ...exposures.map(({ mainFile }): Decision => ({ kind: 'take-down', file: mainFile })),
    ],
    frames: exposures.map(({ frameId }) => frameId),
    shared: what.kind === 'frames' ? [] : sharedOf(exposures, riders, input.arrangement),
  };
}

/** A rider is a minor, or of age after all, by every name they go by. */
export function sayMinor(rider: RiderKey, is: MinorSaid, input: TakeDownInput): readonly Decision[] {
  return ridersMeant({ kind: 'rider', rider }, input)
    .flatMap((one) => ofRider(one, input))
    .map((said): Decision => (said.kind === 'take-down' ? { kind: 'minor', rider: said.rider!, is } : said));
}

function ridersMeant(what: ToTakeDown, { arrangement, log }: TakeDownInput): readonly Rider[] {
  if (what.kind === 'frames') return [];
  const keys =
    what.kind === 'rider' ? new Set([what.rider]) : ridersOfPersons(arrangement, log, new Set([what.person]));
  return arrangement.riders.filter(({ key }) => keys.has(key));
}

function ofRider(rider: Rider, input: TakeDownInput): readonly Decision[] {
  if (rider.id !== null) return [rider.id, ...rider.aliases].map((id): Decision => ({ kind: 'take-down', rider: id }));
  const id = input.mint();
  const points = spread(bikesOf(rider, input.arrangement), MOST_POINTS).flatMap((bike) => pointOf(bike, input));
  return [
    { kind: 'rider-minted', rider: id, points, shownAs: rider.key },
    { kind: 'take-down', rider: id },
  ];
}

/** As many as a screen may send; over the whole day, so that most of them stay the rider's whatever is split off. */
const MOST_POINTS = 12;

const spread = <One>(all: readonly One[], most: number): readonly One[] =>
  all.length <= most ? all : Array.from({ length: most }, (_, i) => all[Math.floor((i * all.length) / most)]!);

const bikesOf = ({ passes }: Rider, arrangement: Arrangement): readonly BikeRef[] =>
  passes.flatMap((pass) => arrangement.passes[pass]!.bikes.slice(0, 1));

function pointOf({ frameId, subject }: BikeRef, { arrangement, pixels }: TakeDownInput): readonly BikePoint[] {
  const measured = pixels.get(frameId);
  const box = measured?.kind === 'measured' ? measured.subjects[subject]?.box : undefined;
  const file = arrangement.exposures.find((one) => one.frameId === frameId)?.mainFile;
  if (box === undefined || file === undefined) return [];
  return [{ file, x: box[0] + box[2] / 2, y: box[1] + box[3] / 2, box }];
}

/** Unsure ones too: who asks to be gone is not shown by a doubt. */
function framesOf(riders: readonly Rider[], { passes, saidBikes, exposures }: Arrangement): readonly FrameId[] {
  const keys = new Set(riders.map(({ key }) => key));
  const frames = new Set<FrameId>();
  for (const pass of passes) if (keys.has(pass.rider)) for (const bike of pass.bikes) frames.add(bike.frameId);
  for (const bike of saidBikes) if (keys.has(bike.rider)) frames.add(bike.frameId);
  return exposures.map(({ frameId }) => frameId).filter((frame) => frames.has(frame));
}

function sharedOf(
  exposures: readonly Exposure[],
  riders: readonly Rider[],
  { passes, saidBikes }: Arrangement,
): readonly FrameId[] {
  const own = new Set(riders.map(({ key }) => key));
  const others = new Set([
    ...passes.filter(({ rider }) => !own.has(rider)).flatMap(({ bikes }) => bikes.map(({ frameId }) => frameId)),
    ...saidBikes.filter(({ rider }) => !own.has(rider)).map(({ frameId }) => frameId),
  ]);
  return exposures.map(({ frameId }) => frameId).filter((frame) => others.has(frame));
}
