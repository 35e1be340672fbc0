/**
 * Invented days for the solver, from a seed. Sessions follow one another by group with a lunch between; the light at each spot
 * rises and falls with the hour, ways are as long as the spots lie apart around the track, and what a person may wish is there.
 */
import type { SpotId } from '../../src/core/ids.js';
import type { BindingWish, DayProblem, DayWay, Stretch } from '../../src/core/plan/day/types.js';
import { wallMsOf } from '../../src/core/units.js';

export interface DayShape {
  readonly seed: number;
  readonly sessions: number;
  readonly halves: 1 | 2;
  readonly spots: number;
  readonly groups?: number;
  readonly photographers?: number;
  readonly wishes?: number;
  readonly restAfterMinutes?: number;
  readonly hasLunch?: boolean;
  /** The plan begins in the middle of the day, with something seen already. */
  readonly isUnderWay?: boolean;
}

const SESSION_MINUTES = 20;
const LUNCH_MINUTES = 60;
const MINUTE = 60_000;

export function inventedDay(shape: DayShape): DayProblem {
  const random = seeded(shape.seed);
  const groups = ['N', 'I', 'F', 'W'].slice(0, shape.groups ?? 3);
  const lunchAfter = shape.hasLunch === false ? -1 : Math.ceil(shape.sessions * 0.57);
  const stretches = stretchesOf(shape, groups, lunchAfter, random);
  const spots = Array.from({ length: shape.spots }, (_, i) => `spot${i + 1}` as SpotId);
  const around = spots.map(() => random());
  const noonOf = spots.map(() => random() * 480);
  const ways = spots.map((_, a) =>
    spots.map((_, b) => (a === b ? { minutes: 0, cost: 0 } : wayOf(around[a]!, around[b]!, random))),
  );
  const lunchEnd = lunchAfter < 0 ? undefined : stretches.find((each) => Number(each.slot) > lunchAfter)?.from;
  const first = stretches[0]!.from;
  const problem: DayProblem = {
    stretches,
    spots,
    spotNames: spots.map((_, i) => `Spot ${i + 1}`),
    ways,
    vanWays: spots.map((_, i) => wayOf(around[i]!, 0.5, random)),
    worth: stretches.map((stretch) =>
      spots.map((_, i) => {
        const light = 0.55 + 0.45 * Math.cos(((stretch.from - first) / MINUTE - noonOf[i]!) / 150);
        return round(light * (0.75 + 0.25 * random()));
      }),
    ),
    besides: stretches.map(({ isSighting }) =>
      spots.map(() => round((isSighting ? 0.3 : 0) - (random() < 0.2 ? 0.05 : 0))),
    ),
    returns: [1, 0.45, 0.25, 0.15, 0.1],
    bothSides: Object.fromEntries(groups.map((group) => [group, 0.6])),
    sides: spots.map(() => (['left', 'right', null] as const)[Math.floor(random() * 3)]!),
    vanBreaks:
      lunchEnd === undefined
        ? []
        : [{ from: wallMsOf(lunchEnd - LUNCH_MINUTES * MINUTE), to: lunchEnd, leastMinutes: 30 }],
    rest: shape.restAfterMinutes === undefined ? null : { afterMinutes: shape.restAfterMinutes, leastMinutes: 15 },
    photographers: shape.photographers ?? 1,
    start: null,
    had: [],
    wishes: [],
  };
  const wishes = Array.from({ length: shape.wishes ?? 0 }, () => wishOf(problem, random));
  return { ...problem, wishes, ...(shape.isUnderWay ? underWay(problem, random) : {}) };
}

function stretchesOf(shape: DayShape, groups: readonly string[], lunchAfter: number, random: () => number): Stretch[] {
  let at = Date.UTC(2026, 8, 19, 9);
  return Array.from({ length: shape.sessions }, (_, i) => {
    if (i > 0) at += Math.floor(random() * 4) * MINUTE;
    if (i === lunchAfter) at += LUNCH_MINUTES * MINUTE;
    const slot = `${i + 1}`;
    const long = (SESSION_MINUTES * MINUTE) / shape.halves;
    return Array.from({ length: shape.halves }, (_, half): Stretch => {
      const from = at;
      at += long;
      return {
        name: shape.halves === 1 ? slot : `${slot} ${half === 0 ? 'first' : 'second'} half`,
        slot,
        group: groups[i % groups.length]!,
        from: wallMsOf(from),
        to: wallMsOf(at),
        isSighting: i < groups.length,
      };
    });
  }).flat();
}

/** Some ways cross the track and may not be used. */
function wayOf(a: number, b: number, random: () => number): DayWay | null {
  if (random() < 0.1) return null;
  const apart = Math.min(Math.abs(a - b), 1 - Math.abs(a - b));
  const minutes = Math.round(3 + 24 * apart + 3 * random());
  return { minutes, cost: round(0.012 * minutes) };
}

function wishOf({ stretches, spots }: DayProblem, random: () => number): BindingWish {
  const stretch = stretches[Math.floor(random() * stretches.length)]!;
  const spot = spots[Math.floor(random() * spots.length)]!;
  const kind = (['pin', 'forbid', 'closed', 'rest'] as const)[Math.floor(random() * 4)]!;
  if (kind === 'pin' || kind === 'forbid') return { kind, stretch: stretch.name, spot };
  const to = wallMsOf(stretch.from + (kind === 'rest' ? 15 : 60) * MINUTE);
  return kind === 'closed' ? { kind, spot, from: stretch.from, to } : { kind, from: stretch.from, to };
}

function underWay(problem: DayProblem, random: () => number): Pick<DayProblem, 'start' | 'had'> {
  const spot = () => (random() < 0.3 ? null : problem.spots[Math.floor(random() * problem.spots.length)]!);
  return {
    start: {
      at: wallMsOf(problem.stretches[0]!.from - 5 * MINUTE),
      places: Array.from({ length: problem.photographers }, spot),
    },
    had: Array.from({ length: 4 }, () => ({
      group: problem.stretches[Math.floor(random() * problem.stretches.length)]!.group,
      spot: problem.spots[Math.floor(random() * problem.spots.length)]!,
      worth: round(random()),
    })),
  };
}

const round = (value: number): number => Math.round(value * 1000) / 1000;

/** A linear congruential generator with the multiplier of Park and Miller (Communications of the ACM 31(10), 1988). */
export function seeded(seed: number): () => number {
  let state = (seed * 7919 + 12345) % 2147483647;
  return () => {
    state = (state * 48271) % 2147483647;
    return (state - 1) / 2147483646;
  };
}
