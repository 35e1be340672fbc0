/**
 * What standing somewhere gave in the morning: good frames a minute of a rider who was out, by group and spot. Where little was
 * seen the rate leans on the group's, and that on the day's, as a gamma prior of so many rider-minutes leans a Poisson rate
 * (Bayesian Data Analysis, 3rd ed. 2013, section 2.6). Rule PL1205.
 */
import type { Arrangement } from '../../arrange/types.js';
import type { SpotId } from '../../ids.js';
import type { YieldAt } from '../../plan/lunch/types.js';
import { type WallMs, wallMsOf } from '../../units.js';
import type { Coverage } from '../types.js';

/** Rider-minutes for which the wider rate counts: a session half of twenty riders. No source. */
const LEAN_RIDER_MINUTES = 200;
/**
 * Before anything was seen, from the trade's figures: under 9 frames a rider in a session of 20 min, of which practice keeps
 * 30 to 60 of 100; three good frames of a pass.
 */
const USUAL = { framesAMinute: 0.2, framesAPass: 2 };

/**
 * A spot that gave good frames so much more seldom than the rest of the morning, by frames taken, was spoiled and is not bad: the
 * lens is looked at over lunch, and nothing is learnt of the spot from it. The share is this program's.
 */
const SPOILED_BELOW = 0.25;

interface Seen {
  readonly good: number;
  readonly riderMinutes: number;
}

/** A group at a spot in one session. */
export interface YieldCell extends Seen {
  readonly group: string;
  readonly spot: SpotId;
  readonly frames: number;
  readonly at: WallMs;
}

export function yieldsOf(
  cells: readonly YieldCell[],
  arrangement: Arrangement,
  coverage: Coverage,
  counted: ReadonlySet<string>,
): YieldAt[] {
  const day = rateOf(sumOf(cells), USUAL.framesAMinute);
  const framesAPass = passSize(coverage, arrangement, counted);
  const groups = [...new Set(cells.map(({ group }) => group))];
  const spots = [...new Set(cells.map(({ spot }) => spot))];
  const timesOf = new Map(
    spots.map((spot) => [spot, rateOf(sumOf(cells.filter((cell) => cell.spot === spot)), day) / day]),
  );
  return groups.flatMap((group) => {
    const own = cells.filter((cell) => cell.group === group);
    const ofGroup = rateOf(sumOf(own), day);
    return [
      { group, spot: null, framesAMinute: ofGroup, seenAt: null, framesAPass },
      ...spots.map((spot) => {
        const here = own.filter((cell) => cell.spot === spot);
        const all = here.length > 0 ? here : cells.filter((cell) => cell.spot === spot);
        const framesAMinute = rateOf(sumOf(here), ofGroup * timesOf.get(spot)!);
        return { group, spot, framesAMinute, seenAt: middleOf(all), framesAPass };
      }),
    ];
  });
}

const rateOf = ({ good, riderMinutes }: Seen, wider: number): number =>
  (good + LEAN_RIDER_MINUTES * wider) / (riderMinutes + LEAN_RIDER_MINUTES);

const sumOf = (cells: readonly Seen[]): Seen => ({
  good: cells.reduce((sum, { good }) => sum + good, 0),
  riderMinutes: cells.reduce((sum, { riderMinutes }) => sum + riderMinutes, 0),
});

function middleOf(cells: readonly YieldCell[]): WallMs {
  const { riderMinutes } = sumOf(cells);
  return wallMsOf(cells.reduce((sum, cell) => sum + (cell.at * cell.riderMinutes) / riderMinutes, 0));
}

function unspoiled(cells: readonly YieldCell[]): readonly YieldCell[] {
  const share = (some: readonly YieldCell[]): number =>
    some.reduce((sum, { good }) => sum + good, 0) /
    Math.max(
      1,
      some.reduce((sum, { frames }) => sum + frames, 0),
    );
  return cells.filter((cell) => {
    const others = cells.filter(({ spot }) => spot !== cell.spot);
    return others.length === 0 || share([cell]) >= SPOILED_BELOW * share(others);
  });
}

/** Session by session, without what was spoiled. Riders of one: those seen in it, and as many more as are thought to have been missed. */
export function yieldCells(
  { sessions, exposures }: Arrangement,
  { riders, unseen = [] }: Coverage,
  counted: ReadonlySet<string>,
): readonly YieldCell[] {
  const cells = sessions.flatMap(({ index, group }) => {
    if (group === null) return [];
    const own = riders.flatMap(({ rider, cells }) =>
      counted.has(rider) ? [cells.filter(({ session }) => session === index)] : [],
    );
    const here = own.filter((cells) => cells.length > 0);
    const range = unseen.find(({ session }) => session === index);
    const missed = range === undefined ? 0 : (range.fromRiders + range.toRiders) / 2;
    const spots = new Set(exposures.flatMap(({ session, spot }) => (session === index && spot !== null ? [spot] : [])));
    return [...spots].flatMap((spot): YieldCell[] => {
      const time = timeAt(exposures, index, spot);
      const seen = here.flat().filter((cell) => cell.spot === spot);
      const good = seen.reduce((sum, { goodFrames }) => sum + goodFrames, 0);
      const frames = seen.reduce((sum, cell) => sum + cell.frames, 0);
      return time === null
        ? []
        : [{ group, spot, good, frames, riderMinutes: (here.length + missed) * time.minutes, at: time.at }];
    });
  });
  return unspoiled(cells);
}

/** From the first picture to the last, and a minute for the ends. */
function timeAt(
  exposures: Arrangement['exposures'],
  session: number,
  spot: SpotId,
): { readonly minutes: number; readonly at: WallMs } | null {
  const walls = exposures.flatMap((each) =>
    each.session === session && each.spot === spot && each.wall !== null ? [each.wall as number] : [],
  );
  if (walls.length === 0) return null;
  const [first, last] = [Math.min(...walls), Math.max(...walls)];
  return { minutes: (last - first) / 60_000 + 1, at: wallMsOf((first + last) / 2) };
}

/**
 * Good frames of a pass that has any, as if each frame of a burst were good by a chance of its own: n p ÷ (1 − (1 − p)ⁿ) for n frames
 * of which the share p is good. Passes without any are what spots are missed by.
 */
function passSize({ riders }: Coverage, arrangement: Arrangement, counted: ReadonlySet<string>): number {
  const passes = new Map(arrangement.riders.map(({ key, passes: own }) => [key, own.length]));
  const seen = riders.filter(({ rider, frames }) => counted.has(rider) && frames > 0);
  const sum = (of: (one: (typeof seen)[number]) => number): number => seen.reduce((all, one) => all + of(one), 0);
  const [frames, good, all] = [
    sum((one) => one.frames),
    sum((one) => one.goodFrames),
    sum(({ rider }) => passes.get(rider) ?? 0),
  ];
  if (good === 0 || all === 0) return USUAL.framesAPass;
  const share = good / frames;
  return good / all / (1 - (1 - share) ** (frames / all));
}
