/**
 * What standing somewhere gave in the morning: good frames a minute of a rider who was out, by group and spot. Where little was
 * seen the rate leans on the group's, and that on the day's, as a gamma prior of so many rider-minutes leans a Poisson rate
 * (A. Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, section 2.6). Rule PL1205.
 */
import type { Arrangement } from '../../arrange/types.js';
import type { SpotId } from '../../ids.js';
import type { YieldAt } from '../../plan/lunch/types.js';
import type { Coverage } from '../types.js';

/** Rider-minutes for which the wider rate counts: a session half of twenty riders. No source. */
const LEAN_RIDER_MINUTES = 200;
/**
 * Before anything was seen, from the trade's figures: under 9 frames a rider in a session of 20 min, of which practice keeps
 * 30 to 60 of 100; three good frames of a pass.
 */
const USUAL = { framesAMinute: 0.2, framesAPass: 2 };

interface Seen {
  good: number;
  riderMinutes: number;
}

export function yieldsOf(arrangement: Arrangement, coverage: Coverage, counted: ReadonlySet<string>): YieldAt[] {
  const byCell = cellsOf(arrangement, coverage, counted);
  const all = sumOf([...byCell.values()]);
  const day = rateOf(all, USUAL.framesAMinute);
  const framesAPass = passSize(coverage, arrangement, counted);
  const groups = [...new Set([...byCell.values()].map(({ group }) => group))];
  return groups.flatMap((group) => {
    const own = [...byCell.values()].filter((cell) => cell.group === group);
    const ofGroup = rateOf(sumOf(own), day);
    return [
      { group, spot: null, framesAMinute: ofGroup, framesAPass },
      ...own.map((cell) => ({ group, spot: cell.spot, framesAMinute: rateOf(cell, ofGroup), framesAPass })),
    ];
  });
}

const rateOf = ({ good, riderMinutes }: Seen, wider: number): number =>
  (good + LEAN_RIDER_MINUTES * wider) / (riderMinutes + LEAN_RIDER_MINUTES);

const sumOf = (cells: readonly Seen[]): Seen =>
  cells.reduce((sum, cell) => ({ good: sum.good + cell.good, riderMinutes: sum.riderMinutes + cell.riderMinutes }), {
    good: 0,
    riderMinutes: 0,
  });

interface Cell extends Seen {
  readonly group: string;
  readonly spot: SpotId;
}

/** Riders of a session: those seen in it, and as many more as are thought to have been missed. */
function cellsOf(
  { sessions, exposures }: Arrangement,
  { riders, unseen = [] }: Coverage,
  counted: ReadonlySet<string>,
) {
  const cells = new Map<string, Cell>();
  for (const { index, group } of sessions) {
    if (group === null) continue;
    const here = riders.filter(
      ({ rider, cells: own }) => counted.has(rider) && own.some((cell) => cell.session === index),
    );
    const range = unseen.find(({ session }) => session === index);
    const missed = range === undefined ? 0 : (range.fromRiders + range.toRiders) / 2;
    const spots = new Set(exposures.flatMap(({ session, spot }) => (session === index && spot !== null ? [spot] : [])));
    for (const spot of spots) {
      const cell = cells.get(`${group}|${spot}`) ?? { group, spot, good: 0, riderMinutes: 0 };
      cells.set(`${group}|${spot}`, cell);
      cell.riderMinutes += (here.length + missed) * minutesAt(exposures, index, spot);
      for (const { cells: own } of here)
        for (const one of own) if (one.session === index && one.spot === spot) cell.good += one.goodFrames;
    }
  }
  return cells;
}

/** From the first picture to the last, and a minute for the ends. */
function minutesAt(exposures: Arrangement['exposures'], session: number, spot: SpotId): number {
  const walls = exposures.flatMap((each) =>
    each.session === session && each.spot === spot && each.wall !== null ? [each.wall as number] : [],
  );
  return walls.length === 0 ? 0 : (Math.max(...walls) - Math.min(...walls)) / 60_000 + 1;
}

/** Good frames of a rider by the passes that are in pictures, of those seen well at all. */
function passSize({ riders }: Coverage, arrangement: Arrangement, counted: ReadonlySet<string>): number {
  const passes = new Map(arrangement.riders.map(({ key, passes: own }) => [key, own.length]));
  const seen = riders.filter(({ rider, goodFrames }) => counted.has(rider) && goodFrames > 0);
  const good = seen.reduce((sum, { goodFrames }) => sum + goodFrames, 0);
  const all = seen.reduce((sum, { rider }) => sum + (passes.get(rider) ?? 0), 0);
  return all === 0 ? USUAL.framesAPass : Math.max(1, good / all);
}
