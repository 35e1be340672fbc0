/** Who was gone through, who is left, and in which order. Rules CH24, CH25. */
import type { Arrangement, Exposure, Rider } from '../arrange/types.js';
import type { FileId, FrameId, RiderKey } from '../ids.js';
import { type FoldedLog, takenDown } from '../log/index.js';
import type { FrameMeasurement } from '../measure/types.js';
import { type Answer, answersOf, timeLeftFor } from './timeLeft.js';
import type { ChooseRules, Keeper, Keepers, LeftToChoose } from './types.js';
import { bikesPointedAt } from './words.js';

export interface Going {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
}

/** A rider with what stands in the set now. */
export interface Standing {
  readonly rider: Rider;
  readonly keepers: readonly Keeper[];
}

export interface GoneThrough {
  /** In the order a person meets them. */
  readonly left: readonly Standing[];
  readonly gone: readonly Standing[];
  readonly answers: readonly Answer[];
}

export function goneThrough({ byRider, rules }: Keepers, going: Going): GoneThrough {
  const down = takenDown(going.log).riders;
  const filesGone = filesGoneThrough(going);
  const exposureOf = new Map(going.arrangement.exposures.map((one) => [one.frameId, one]));
  const isGone = ({ rider, keepers }: Standing): boolean => {
    const files = filesGone.get(rider.key);
    return files !== undefined && keepers.every(({ bike }) => isAmong(files, exposureOf.get(bike.frameId)));
  };
  const standing = going.arrangement.riders
    .filter(({ id }) => id === null || !down.has(id))
    .map((rider): Standing => ({ rider, keepers: byRider.get(rider.key) ?? [] }))
    .sort((a, b) => turnOf(a, rules) - turnOf(b, rules));
  return {
    left: standing.filter((one) => !isGone(one)),
    gone: standing.filter(isGone),
    answers: answersOf(going.log),
  };
}

export const leftToChoose = ({ left, gone, answers }: GoneThrough, rules: ChooseRules): LeftToChoose => ({
  left: left.map(keyOf),
  gone: gone.map(keyOf),
  belowLeast: left.filter((one) => isBelow(one, rules)).map(keyOf),
  time: timeLeftFor(answers, left.map(picturesOf)),
});

const keyOf = ({ rider }: Standing): RiderKey => rider.key;

/** What a person looks at for one rider: the keepers, and once the whole. */
export const picturesOf = ({ keepers }: Standing): number => keepers.length + 1;

/** Who instructs is shown, and counted nowhere. */
export const isBelow = ({ rider, keepers }: Standing, { leastPerRider }: ChooseRules): boolean =>
  keepers.length < leastPerRider && rider.isInstructor !== true;

/** Those below the least, the thinnest before all; then the others; who instructs comes last. Within, the day's order. */
function turnOf(one: Standing, rules: ChooseRules): number {
  if (one.rider.isInstructor) return rules.leastPerRider + 1;
  return isBelow(one, rules) ? one.keepers.length : rules.leastPerRider;
}

const isAmong = (files: ReadonlySet<FileId>, exposure: Exposure | undefined): boolean =>
  exposure?.files.some((file) => files.has(file)) ?? false;

/** By rider: the files of all sets that were gone through with a bike of this rider in hand. */
function filesGoneThrough({ arrangement, pixels, log }: Going): ReadonlyMap<RiderKey, ReadonlySet<FileId>> {
  const said = log.inForce.flatMap(({ decision }) => (decision.kind === 'gone-through' ? [decision] : []));
  const gone = new Map<RiderKey, Set<FileId>>();
  if (said.length === 0) return gone;
  const bikesAt = bikesPointedAt(arrangement, pixels);
  const riderOf = new Map(
    arrangement.passes.flatMap(({ bikes, rider }) => bikes.map((bike) => [bike, rider] as const)),
  );
  for (const { of, files } of said)
    for (const bike of bikesAt(of.file, of)) {
      const rider = riderOf.get(bike)!;
      const own = gone.get(rider) ?? new Set();
      for (const file of files) own.add(file);
      gone.set(rider, own);
    }
  return gone;
}
