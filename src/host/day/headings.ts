/** Where the bikes of a pass head in the picture: who sees a bike's left side sees it go to the left. By the circuit's drawing alone. */
import type { Arrangement } from '../../core/arrange/types.js';
import { bikeKeyOf } from '../../core/cover/index.js';
import type { FoldedLog } from '../../core/log/types.js';
import type { Timetable } from '../../core/plan/types.js';
import { rememberingSpotFacts } from './spotFacts.js';

export type Heading = 'left' | 'right';

/** By `bikeKeyOf`; who comes or goes straight, or was taken at a spot without a drawing, is not among them. */
export function rememberingHeadings(): (known: {
  readonly arrangement: Arrangement;
  readonly log: FoldedLog;
  readonly timetable: Timetable | null;
}) => ReadonlyMap<string, Heading> {
  const spotFacts = rememberingSpotFacts();
  let last: {
    readonly passes: Arrangement['passes'];
    readonly facts: unknown;
    readonly headings: Map<string, Heading>;
  } | null = null;
  return ({ arrangement: { passes }, log, timetable }) => {
    const facts = spotFacts(log, timetable);
    if (last?.passes === passes && last.facts === facts) return last.headings;
    const headings = new Map<string, Heading>();
    for (const { spot, bikes } of passes) {
      const side = spot === null ? undefined : facts.get(spot)?.side;
      if (side === 'left' || side === 'right') for (const bike of bikes) headings.set(bikeKeyOf(bike), side);
    }
    last = { passes, facts, headings };
    return headings;
  };
}
