/** One state of the day, prepared once for all that the choosing screen asks of it; what nobody asks is not worked out. */
import { type ChooseInput, chooseKeepers, setsOf } from './chooseKeepers.js';
import { type GoneThrough, goneThrough, leftToChoose } from './goThrough.js';
import { planMinutes } from './minutes.js';
import { proposalOf } from './proposal.js';
import type { Choosing, Keepers } from './types.js';

/** `keepers`: what `chooseKeepers` says of this very input, where it was asked before. */
export function startChoosing(input: ChooseInput & { readonly keepers?: Keepers }): Choosing {
  const sets = setsOf(input);
  const keepers = once(() => input.keepers ?? chooseKeepers(input));
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

function once<T>(work: () => T): () => T {
  let made: { readonly is: T } | null = null;
  return () => {
    made ??= { is: work() };
    return made.is;
  };
}
