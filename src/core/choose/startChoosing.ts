/** One state of the day, prepared once for all that the choosing screen asks of it; what nobody asks is not worked out. */
import { once } from '../numeric/once.js';
import { type ChooseInput, chooseKeepers, type RiderSets, setsOf } from './chooseKeepers.js';
import { type GoneThrough, goneThrough, leftToChoose } from './goThrough.js';
import { planMinutes } from './minutes.js';
import { proposalOf } from './proposal.js';
import type { Choosing, Keepers } from './types.js';

/** `keepers` and `sets`: what `chooseKeepers` and `setsOf` say of this very input, where they were asked before. */
export function startChoosing(
  input: ChooseInput & { readonly keepers?: Keepers },
  sets: RiderSets = setsOf(input),
): Choosing {
  const keepers = once(() => input.keepers ?? chooseKeepers(input, sets));
  const gone = once((): GoneThrough => goneThrough(keepers(), input));
  return {
    get keepers() {
      return keepers();
    },
    proposalFor(rider) {
      const set = sets.setOf(rider);
      const coverage = input.coverage.riders.find((one) => one.rider === rider);
      return set === null ? null : proposalOf(set, sets.rules, coverage);
    },
    left: () => leftToChoose(gone(), sets.rules),
    minutes: (minutes) => planMinutes(gone(), sets, minutes),
  };
}
