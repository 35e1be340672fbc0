/** Who was gone through, who is left, and in which order. Rules CH24, CH25. */
import type { Arrangement, Exposure } from '../arrange/types.js';
import type { FileId, FrameId, RiderKey } from '../ids.js';
import { type FoldedLog, takenDown } from '../log/index.js';
import type { FrameMeasurement } from '../measure/types.js';
import type { RiderSet } from './riderSet.js';
import { type Answer, answersOf, timeLeftFor } from './timeLeft.js';
import type { ChooseRules, LeftToChoose } from './types.js';
import { bikesPointedAt } from './words.js';

export interface Going {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
}

export interface GoneThrough {
  /** In the order a person meets them. */
  readonly left: readonly RiderSet[];
  readonly gone: readonly RiderSet[];
  readonly answers: readonly Answer[];
}

export function goneThrough(sets: readonly RiderSet[], rules: ChooseRules, going: Going): GoneThrough {
  const down = takenDown(going.log).riders;
  const filesGone = filesGoneThrough(going);
  const exposureOf = new Map(going.arrangement.exposures.map((one) => [one.frameId, one]));
  const isGone = ({ rider, taken }: RiderSet): boolean => {
    const files = filesGone.get(rider.key);
    return files !== undefined && taken.every(({ offer }) => isAmong(files, exposureOf.get(offer.bike.frameId)));
  };
  const open = sets.filter(({ rider }) => rider.id === null || !down.has(rider.id));
  return {
    left: open.filter((set) => !isGone(set)).sort((a, b) => turnOf(a, rules) - turnOf(b, rules)),
    gone: open.filter(isGone),
    answers: answersOf(going.log),
  };
}

export const leftToChoose = ({ left, gone, answers }: GoneThrough, rules: ChooseRules): LeftToChoose => ({
  left: left.map(keyOf),
  gone: gone.map(keyOf),
  belowLeast: left.filter((set) => isBelow(set, rules)).map(keyOf),
  time: timeLeftFor(answers, left.map(picturesOf)),
});

const keyOf = ({ rider }: RiderSet): RiderKey => rider.key;

/** What a person looks at for one rider: the keepers, and once the whole. */
export const picturesOf = ({ taken }: RiderSet): number => taken.length + 1;

/** Who instructs is shown, and counted nowhere. */
export const isBelow = ({ rider, taken }: RiderSet, { leastPerRider }: ChooseRules): boolean =>
  taken.length < leastPerRider && rider.isInstructor !== true;

/** Those below the least, the thinnest before all; then the others; who instructs comes last. Within, the day's order. */
function turnOf(set: RiderSet, rules: ChooseRules): number {
  if (set.rider.isInstructor) return rules.leastPerRider + 1;
  return isBelow(set, rules) ? set.taken.length : rules.leastPerRider;
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
