/** Who holds which body, where only the bodies are said: two that stand at two spots at once are in two people's hands. */
import { type WallMs, wallMsOf } from '../../units.js';
import type { Stand } from '../types.js';
import type { SheetSource } from './types.js';
import { DAY_MS } from './words.js';

/** Stands of one day by photographer; what is said of no body in particular holds for all. At least one, be it empty. */
export function standsByHand(stands: readonly Stand[], day: WallMs): readonly (readonly Stand[])[] {
  const ofDay = stands.filter(({ from }) => from >= day && from < day + DAY_MS).toSorted((a, b) => a.from - b.from);
  const hands: Stand[][] = [];
  for (const body of new Set(ofDay.flatMap((stand) => stand.body ?? []))) {
    const own = ofDay.filter((stand) => stand.body === body);
    const free = hands.find((held) => held.every((one) => own.every((other) => !areApart(one, other))));
    if (free === undefined) hands.push([...own]);
    else free.push(...own);
  }
  const ofAll = ofDay.filter(({ body }) => body === undefined);
  return (hands.length === 0 ? [[]] : hands).map((held) => joined([...held, ...ofAll]));
}

/** How many sheets the day has: who shares it by the wishes, or by where the bodies stand. */
export const handsOf = (source: SheetSource, day: WallMs, photographers: number): number =>
  Math.max(photographers, standsByHand(source.kind === 'stands' ? source.stands : (source.said ?? []), day).length);

/** At one time at two spots. */
export const areApart = (a: Stand, b: Stand): boolean => a.spot !== b.spot && a.from < b.to && b.from < a.to;

/** Two bodies that one person holds at one spot make one stay. */
function joined(stands: readonly Stand[]): readonly Stand[] {
  const all: Stand[] = [];
  for (const stand of stands.toSorted((a, b) => a.from - b.from)) {
    const last = all.at(-1);
    if (last?.spot === stand.spot && stand.from < last.to)
      all[all.length - 1] = { ...last, to: wallMsOf(Math.max(last.to, stand.to)) };
    else all.push(stand);
  }
  return all;
}
