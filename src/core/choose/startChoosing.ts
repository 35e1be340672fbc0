/** One state of the day, prepared once for all that the choosing screen asks of it. */
import { type ChooseInput, chooseSets, keepersOf } from './chooseKeepers.js';
import { goneThrough, leftToChoose } from './goThrough.js';
import { planMinutes } from './minutes.js';
import { proposalOf } from './proposal.js';
import type { Choosing } from './types.js';

export function startChoosing(input: ChooseInput): Choosing {
  const chosen = chooseSets(input);
  const { sets, rules } = chosen;
  const setOf = new Map(sets.map((set) => [set.rider.key, set]));
  const coverageOf = new Map(input.coverage.riders.map((one) => [one.rider, one]));
  const gone = goneThrough(sets, rules, input);
  return {
    keepers: keepersOf(chosen),
    proposalFor(rider) {
      const set = setOf.get(rider);
      return set === undefined ? null : proposalOf(set, rules, coverageOf.get(rider));
    },
    left: () => leftToChoose(gone, rules),
    minutes: (minutes) => planMinutes(gone, rules, minutes),
  };
}
