/** What each plan may be expected to bring, group by group. Rule PL1209. */
import type { Stay, Stretch } from '../day/types.js';
import { AFTERNOON_AIM } from './aim.js';
import { expectedOf, type Passes } from './expected.js';
import type { OwedMorning } from './owed.js';
import { type Outlook, passesOf, Yields } from './passesOf.js';
import type { GroupGain } from './types.js';

/** Riders whom no picture shows are in none of the counts. */
export function gainsOf(
  { owed, yields: known, spread }: OwedMorning,
  outlook: Outlook,
  stretches: readonly Stretch[],
  kept: readonly Stay[] | null,
  found: readonly Stay[],
): readonly GroupGain[] {
  const yields = new Yields(known, outlook);
  const groups = [...new Set(stretches.map(({ group }) => group))];
  return groups.map((group) => {
    const riders = owed.filter((rider) => rider.group === group);
    const rates = { framesAPass: yields.framesAPass(group), spread };
    const enough = (passes: Passes): number =>
      riders.reduce((sum, rider) => sum + expectedOf(rider, passes, rates, AFTERNOON_AIM).enough, 0);
    const by = (stays: readonly Stay[]): number => enough(passesOf(group, stretches, stays, yields));
    return { group, riders: riders.length, now: enough(new Map()), kept: kept && by(kept), found: by(found) };
  });
}
