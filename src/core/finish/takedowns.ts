/**
 * Which frames must not be shown: those taken down or held back, and every frame a rider who was taken down, or is a minor
 * nobody consented for, is in or was once published in. A takedown always wins and outlives republishing (settled points 3
 * and 7 of the design).
 */
import type { Arrangement, Rider } from '../arrange/types.js';
import type { FileId, FrameId, PersonId, RiderId, RiderKey } from '../ids.js';
import { causalityOf, type FoldedLog, isHeld, takenDown } from '../log/index.js';
import { minorsOf } from './minors.js';
import { ridersOfPersons } from './personsRiders.js';

export interface Takedowns {
  readonly frames: ReadonlySet<FrameId>;
  readonly riders: ReadonlySet<RiderKey>;
  /** Ids that were asked for, with every other name the same rider has. */
  readonly riderIds: ReadonlySet<RiderId>;
  /** Of `frames` those held back, which a person may release. */
  readonly held: ReadonlySet<FrameId>;
}

export function takedownsOf(arrangement: Arrangement, log: FoldedLog): Takedowns {
  const asked = takenDown(log);
  const ofPersons = ridersOfPersons(arrangement, log, asked.persons);
  const minors = minorsOf(arrangement, log);
  const isDown = (rider: Rider): boolean =>
    namesOf(rider).some((id) => asked.riders.has(id)) ||
    ofPersons.has(rider.key) ||
    minors.get(rider.key) === 'without-consent';
  const down = arrangement.riders.filter(isDown);
  const riders = new Set(down.map((rider) => rider.key));
  const riderIds = new Set([...asked.riders, ...down.flatMap(namesOf)]);
  const files = new Set<FileId>([...asked.files, ...filesOnceUnder(riderIds, asked.persons, log)]);
  const frames = new Set(
    arrangement.exposures.filter((one) => one.files.some((file) => files.has(file))).map((one) => one.frameId),
  );
  for (const frame of framesWith(riders, arrangement)) frames.add(frame);
  const held = heldFrames(arrangement, log);
  for (const frame of held) frames.add(frame);
  return { frames, riders, riderIds, held };
}

const namesOf = (rider: Rider): readonly RiderId[] =>
  rider.id === null ? rider.aliases : [rider.id, ...rider.aliases];

/** Frames published, settled or pointed at under these ids stay down even when they are arranged elsewhere now. */
function filesOnceUnder(
  riderIds: ReadonlySet<RiderId>,
  persons: ReadonlySet<PersonId>,
  log: FoldedLog,
): readonly FileId[] {
  return log.inForce.flatMap(({ decision }): readonly FileId[] => {
    switch (decision.kind) {
      case 'published':
        return Object.entries(decision.riders).flatMap(([id, files]) => (riderIds.has(id as RiderId) ? files : []));
      case 'settled':
        return riderIds.has(decision.rider) ? decision.files : [];
      case 'rider-minted':
        return riderIds.has(decision.rider) ? decision.points.map((point) => point.file) : [];
      case 'rider-is':
        return (decision.rider !== undefined && riderIds.has(decision.rider)) ||
          (decision.person !== undefined && persons.has(decision.person))
          ? [decision.point.file]
          : [];
      default:
        return [];
    }
  });
}

function framesWith(riders: ReadonlySet<RiderKey>, arrangement: Arrangement): readonly FrameId[] {
  const passes = arrangement.passes.filter((pass) => riders.has(pass.rider));
  const said = arrangement.saidBikes.filter((bike) => riders.has(bike.rider));
  return [...passes.flatMap((pass) => pass.bikes), ...said].map((bike) => bike.frameId);
}

function heldFrames(arrangement: Arrangement, log: FoldedLog): ReadonlySet<FrameId> {
  const files = new Set(log.inForce.flatMap(({ decision }) => (decision.kind === 'held' ? [decision.file] : [])));
  if (files.size === 0) return new Set();
  let known: ReturnType<typeof causalityOf> | null = null;
  const causality = () => {
    known ??= causalityOf(log.lines);
    return known;
  };
  return new Set(
    arrangement.exposures
      .filter((one) => one.files.some((file) => files.has(file)) && isHeld(one.files, log, causality))
      .map((one) => one.frameId),
  );
}
