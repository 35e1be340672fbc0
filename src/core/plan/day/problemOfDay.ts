/** The day's problem from timetable, circuit, light, pace, clients and wishes; what each worth is made of goes with it. */
import type { SpotId } from '../../ids.js';
import type { DayInputs, SpotLeftOut } from './inputs.js';
import { stretchesOfDay, vanBreaksOf } from './stretchesOfDay.js';
import type { BindingWish, DayProblem, DayWay, Stretch, Wish } from './types.js';
import { DAY_WORTH, partsOfWorth, plusOf, returnsOf, timesOf, type WorthPart } from './worthOfStretch.js';

export interface AskedDay {
  readonly problem: DayProblem;
  /** `[stretch][spot]`. */
  readonly parts: readonly (readonly (readonly WorthPart[])[])[];
  /** Share that a group's stretch at a spot keeps however often it was seen from there; the problem's `besides` hold it. */
  readonly everyTime: number;
  /** Wishes that name what the day does not have, each a sentence. They bind nothing. */
  readonly unheard: readonly string[];
  readonly leftOut: readonly SpotLeftOut[];
}

/** A rest shorter than this is none. */
const LEAST_REST_MINUTES = 15;

export function problemOfDay(inputs: DayInputs): AskedDay {
  const from = inputs.underWay?.at ?? null;
  const stretches = stretchesOfDay(inputs.timetable, inputs.isHalved, from);
  const spots = inputs.spots.map(({ id }) => id);
  const parts = stretches.map((stretch) => inputs.spots.map((spot) => partsOfWorth(inputs, stretch, spot)));
  const { heard, unheard } = sortWishes(inputs, stretches);
  const returns = returnsOf(inputs.isHalved);
  const way = (a: SpotId | 'paddock', b: SpotId | 'paddock'): DayWay | null => wayOf(inputs, a, b);
  const bothSides = bothSidesOf(inputs);
  const besidesOf = (own: readonly WorthPart[], { group }: Stretch): number =>
    isInTheDark(own) ? -(bothSides[group] ?? 0) : plusOf(own) + returns.everyTime * timesOf(own);
  const problem: DayProblem = {
    stretches,
    spots,
    spotNames: inputs.spots.map(({ name }) => name),
    ways: spots.map((a) => spots.map((b) => (a === b ? { minutes: 0, cost: 0 } : way(a, b)))),
    vanWays: spots.map((spot) => way(spot, 'paddock')),
    worth: parts.map((row) => row.map(timesOf)),
    besides: parts.map((row, i) => row.map((own) => besidesOf(own, stretches[i]!))),
    returns: returns.first,
    bothSides,
    sides: inputs.spots.map(({ side }) => (side === 'both' ? null : side)),
    vanBreaks: vanBreaksOf(inputs.timetable, from),
    rest:
      inputs.restAfterMinutes === null
        ? null
        : { afterMinutes: inputs.restAfterMinutes, leastMinutes: LEAST_REST_MINUTES },
    photographers: inputs.photographers,
    start: inputs.underWay && { at: inputs.underWay.at, places: inputs.underWay.places },
    had: inputs.underWay?.had ?? [],
    wishes: heard,
  };
  return { problem, parts, everyTime: returns.everyTime, unheard, leftOut: inputs.leftOut ?? [] };
}

/** There no side is seen and no colours: whoever is sent there all the same, by a pin, loses what a side would have brought. */
const isInTheDark = (parts: readonly WorthPart[]): boolean =>
  parts.some(({ kind, by }) => kind === 'light' && 'times' in by && by.times === 0);

function bothSidesOf({ timetable, wishes }: DayInputs): Record<string, number> {
  const times = (group: string) =>
    wishes.reduce(
      (product, wish) => (wish.kind === 'weigh-group' && wish.group === group ? product * wish.times : product),
      1,
    );
  return Object.fromEntries(timetable.groups.map(({ key }) => [key, DAY_WORTH.bothSides * times(key)]));
}

/** On foot the load is carried; a vehicle carries it. */
function wayOf({ wayBetween, carriedKg }: DayInputs, from: SpotId | 'paddock', to: SpotId | 'paddock'): DayWay | null {
  const way = wayBetween(from, to);
  if (way === null) return null;
  const aMinute = way.isOnFoot
    ? DAY_WORTH.onFootAMinute * (1 + carriedKg / DAY_WORTH.doublingKg)
    : DAY_WORTH.byVehicleAMinute;
  return { minutes: way.minutes, cost: way.minutes * aMinute };
}

function sortWishes(inputs: DayInputs, stretches: readonly Stretch[]): { heard: BindingWish[]; unheard: string[] } {
  const heard: BindingWish[] = [];
  const unheard: string[] = [];
  for (const wish of inputs.wishes) {
    const why = whyUnheard(inputs, stretches, wish);
    if (why !== null) unheard.push(why);
    else if (wish.kind !== 'weigh-spot' && wish.kind !== 'weigh-group' && wish.kind !== 'rain') heard.push(wish);
  }
  return { heard, unheard };
}

function whyUnheard(
  { spots, leftOut = [], timetable, underWay }: DayInputs,
  stretches: readonly Stretch[],
  wish: Wish,
): string | null {
  const barred = 'spot' in wish ? leftOut.find(({ id }) => id === wish.spot) : undefined;
  if (barred !== undefined)
    return `A wish names ${barred.why}: the plan does without. Say so where it is drawn, or take the wish back.`;
  if ('spot' in wish && !spots.some(({ id }) => id === wish.spot))
    return `A wish names the spot "${wish.spot}", which the circuit does not have; take it back or draw the spot.`;
  if (wish.kind === 'weigh-group' && !timetable.groups.some(({ key }) => key === wish.group))
    return `A wish names the group "${wish.group}", which the timetable does not have; take it back.`;
  if (!('stretch' in wish)) return null;
  if (stretches.some(({ name, slot }) => name === wish.stretch || slot === wish.stretch)) return null;
  const isOver = underWay !== null && timetable.slots.some(({ name }) => wish.stretch.startsWith(name));
  if (isOver) return null;
  return `A wish names the session "${wish.stretch}", which the timetable does not have; take it back or name another.`;
}
