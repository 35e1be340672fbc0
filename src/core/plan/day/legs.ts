/** The way between two stands: by the van where a break lies between, never while a rest is wished, never across a hot track. */
import type { DayProblem, DayWay, Span } from './types.js';

/** An index into the problem's spots. */
export type Place = number | 'van';

export interface Standing {
  readonly place: Place;
  /** When it ends or begins, in minutes; without end before and after the day. */
  readonly atMinute: number;
}

export interface Leg {
  readonly cost: number;
  /** Neither standing nor on the way. */
  readonly freeMinutes: number;
  readonly arrivesAtMinute: number;
}

export const minutesOf = (ms: number): number => ms / 60_000;

/** Null: it cannot be done in the time. */
export function legBetween(problem: DayProblem, from: Standing, to: Standing): Leg | null {
  const rests = problem.wishes.filter((wish) => wish.kind === 'rest');
  const breaks = problem.vanBreaks.filter(
    (span) => minutesOf(span.to) > from.atMinute && minutesOf(span.from) < to.atMinute,
  );
  let place = from.place;
  let minute = from.atMinute;
  let moving = 0;
  let cost = 0;
  const go = (next: Place): boolean => {
    const way = wayBetween(problem, place, next, isFree(from, to));
    if (way === null) return false;
    minute = earliestEnd(minute, way.minutes, rests);
    moving += way.minutes;
    cost += way.cost;
    place = next;
    return true;
  };
  for (const span of breaks) {
    if (!go('van')) return null;
    minute = Math.max(minute, minutesOf(span.from)) + span.leastMinutes;
    if (minute > minutesOf(span.to)) return null;
  }
  if (!go(to.place) || minute > to.atMinute) return null;
  return { cost, freeMinutes: to.atMinute - from.atMinute - moving, arrivesAtMinute: minute };
}

/** Before the first and after the last session the track is cold: there is always a way. */
const isFree = (from: Standing, to: Standing): boolean =>
  !Number.isFinite(from.atMinute) || !Number.isFinite(to.atMinute);

const NOWHERE: DayWay = { minutes: 0, cost: 0 };

function wayBetween(problem: DayProblem, from: Place, to: Place, isCold: boolean): DayWay | null {
  if (from === to) return NOWHERE;
  const way =
    from === 'van' ? problem.vanWays[to as number] : to === 'van' ? problem.vanWays[from] : problem.ways[from]![to];
  return way ?? (isCold ? NOWHERE : null);
}

/** A way is gone in one piece, and never into a rest. */
function earliestEnd(start: number, minutes: number, rests: readonly Span[]): number {
  if (minutes === 0 || !Number.isFinite(start)) return start;
  let at = start;
  for (let isClear = false; !isClear; ) {
    isClear = true;
    for (const { from, to } of rests) {
      if (minutesOf(from) >= at + minutes || minutesOf(to) <= at) continue;
      at = minutesOf(to);
      isClear = false;
    }
  }
  return at + minutes;
}
