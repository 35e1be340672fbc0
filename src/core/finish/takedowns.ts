/**
 * Which frames must not be shown: those taken down, and every frame a rider who was taken down is in or was once
 * published in. A takedown always wins and outlives republishing (settled points 3 and 7 of the design).
 */
import type { Arrangement, Rider } from '../arrange/types.js';
import type { FileId, FrameId, RiderId, RiderKey } from '../ids.js';
import { type FoldedLog, takenDown } from '../log/index.js';

export interface Takedowns {
  readonly frames: ReadonlySet<FrameId>;
  readonly riders: ReadonlySet<RiderKey>;
  /** Ids that were asked for, with every other name the same rider has. */
  readonly riderIds: ReadonlySet<RiderId>;
}

export function takedownsOf(arrangement: Arrangement, log: FoldedLog): Takedowns {
  const asked = takenDown(log);
  const down = arrangement.riders.filter((rider) => namesOf(rider).some((id) => asked.riders.has(id)));
  const riders = new Set(down.map((rider) => rider.key));
  const riderIds = new Set([...asked.riders, ...down.flatMap(namesOf)]);
  const files = new Set<FileId>([...asked.files, ...filesOnceUnder(riderIds, log)]);
  const frames = new Set(
    arrangement.exposures.filter((one) => one.files.some((file) => files.has(file))).map((one) => one.frameId),
  );
  for (const frame of framesWith(riders, arrangement)) frames.add(frame);
  return { frames, riders, riderIds };
}

const namesOf = (rider: Rider): readonly RiderId[] =>
  rider.id === null ? rider.aliases : [rider.id, ...rider.aliases];

/** Frames published, settled or pointed at under these ids stay down even when they are arranged elsewhere now. */
function filesOnceUnder(riderIds: ReadonlySet<RiderId>, log: FoldedLog): readonly FileId[] {
  return log.inForce.flatMap(({ decision }): readonly FileId[] => {
    switch (decision.kind) {
      case 'published':
        return Object.entries(decision.riders).flatMap(([id, files]) => (riderIds.has(id as RiderId) ? files : []));
      case 'settled':
        return riderIds.has(decision.rider) ? decision.files : [];
      case 'rider-minted':
        return riderIds.has(decision.rider) ? decision.points.map((point) => point.file) : [];
      case 'rider-is':
        return decision.rider !== undefined && riderIds.has(decision.rider) ? [decision.point.file] : [];
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
