/**
 * A plan as it is followed: by the name of the session where the timetable still has it. Whoever cannot be somewhere when a
 * stretch begins misses it, and goes on to the next; whoever finds a spot closed stands at the nearest that is open. A rest may
 * be given up, a way may not. Moving takes longer than planned (read); by how much is invented.
 */
import type { SpotId } from '../../../src/core/ids.js';
import { seededRandom } from '../../../src/core/numeric/random.js';
import type { DayProblem, Stay, Stretch } from '../../../src/core/plan/day/index.js';
import { legBetween, minutesOf, type Standing } from '../../../src/core/plan/day/legs.js';
import { startOf } from '../../../src/core/plan/day/worthOfPlan.js';

export interface Stood {
  readonly stretch: Stretch;
  readonly spot: SpotId;
  /** After the stretch began. */
  readonly lateMs: number;
}

const MEAN_LATE_MS = 120_000;

/** Of one photographer. */
export function followed(
  problem: DayProblem,
  plan: readonly Stay[],
  { isClosed, seed }: { readonly isClosed: (spot: SpotId, stretch: Stretch) => boolean; readonly seed: number },
): readonly Stood[] {
  const stood: Stood[] = [];
  let here: Standing = startOf(problem, 0);
  for (const [i, stretch] of problem.stretches.entries()) {
    const wanted = plan.find(({ stretch: name }) => name === stretch.name)?.spot ?? null;
    const spot =
      wanted !== null && isClosed(wanted, stretch) ? nearestOpen(problem, wanted, stretch, isClosed) : wanted;
    if (spot === null) continue;
    const place = problem.spots.indexOf(spot);
    if (legBetween(problem, here, { place, atMinute: minutesOf(stretch.from) }) === null) continue;
    const late = seededRandom(seed * 92_821 + i * 31).exponential(MEAN_LATE_MS);
    stood.push({ stretch, spot, lateMs: here.place === place ? 0 : late });
    here = { place, atMinute: minutesOf(stretch.to) };
  }
  return stood;
}

function nearestOpen(
  { spots, ways }: DayProblem,
  from: SpotId,
  stretch: Stretch,
  isClosed: (spot: SpotId, stretch: Stretch) => boolean,
): SpotId | null {
  const row = ways[spots.indexOf(from)]!;
  const open = spots
    .map((spot, i) => ({ spot, way: row[i] ?? null }))
    .filter(({ spot, way }) => way !== null && !isClosed(spot, stretch));
  return open.toSorted((a, b) => a.way!.minutes - b.way!.minutes)[0]?.spot ?? null;
}
