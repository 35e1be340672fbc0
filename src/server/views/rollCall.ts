/** A roll call on the screen: how many bikes stood there, and one look of each. */
import type { RiderKey } from '../../core/ids.js';
import type { RollCalled } from '../../core/measure/cards/index.js';
import type { WallMs } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { RollCallView } from '../pocketTypes.js';
import { bikeKey, type Known, knownOf } from './known.js';
import { pictureOf } from './riderLine.js';
import { clockOf } from './wallTime.js';
import { counted } from './words.js';

export function rollCallView(state: DayState, roll: RollCalled, to: WallMs): RollCallView {
  const known = knownOf(state);
  const group = known.groupByKey.get(roll.group);
  if (group === undefined)
    throw new DeskError(
      400,
      `Expected a group of the meeting, ${known.groups.map(({ key }) => key).join(', ')}, but got “${roll.group.slice(0, 40)}”.`,
    );
  const riders = ridersByBike(known);
  const listed = new Set<RiderKey>();
  return {
    asOf: state.asOf,
    from: roll.from,
    to,
    group,
    least: roll.least,
    most: roll.most,
    sentence: sentenceOf(roll, to),
    looks: roll.looks.flatMap((look) => {
      const rider = riders.get(bikeKey(look.frameId, look.subject)) ?? null;
      if (rider !== null && listed.has(rider.key)) return [];
      if (rider !== null) listed.add(rider.key);
      return [{ picture: pictureOf(known, look), subject: look.subject, rider }];
    }),
  };
}

function sentenceOf({ from, least, most }: RollCalled, to: WallMs): string {
  const when = `from ${clockOf(from)} to ${clockOf(to)}`;
  if (most === 0) return `No bike stands large in a picture ${when}.`;
  if (least === most) return `${counted(most, 'bike')} stood here ${when}.`;
  return `Between ${least} and ${counted(most, 'bike')} stood here ${when}: of ${most - least} it is not known whether they are another’s second picture.`;
}

function ridersByBike({ state: { arrangement }, unplaced, riderByKey }: Known) {
  return new Map(
    arrangement.passes.flatMap(({ index, bikes, rider }) => {
      const found = unplaced.has(index) ? undefined : riderByKey.get(rider);
      if (found === undefined) return [];
      const { key, code, livery: words } = found;
      return bikes.map((bike) => [bikeKey(bike.frameId, bike.subject), { key, code, words }] as const);
    }),
  );
}
