/** Plans as rows of spots, and back. */
import type { Row } from './dayTables.js';
import type { DayProblem, Stay } from './types.js';
import { worthOfPlan } from './worthOfPlan.js';

export interface ValuedDay {
  readonly stays: readonly Stay[];
  readonly worth: number;
}

/** Of no plan: rows without a stand. */
export function rowsOf(problem: DayProblem, from: ValuedDay | null): Row[] {
  return Array.from({ length: problem.photographers }, (_, photographer) => {
    const own = new Map(
      from?.stays.filter((stay) => stay.photographer === photographer).map((stay) => [stay.stretch, stay.spot]),
    );
    return Int8Array.from(problem.stretches, ({ name }) => {
      const spot = own.get(name) ?? null;
      return spot === null ? -1 : problem.spots.indexOf(spot);
    });
  });
}

const staysOf = (problem: DayProblem, rows: readonly Row[]): Stay[] =>
  rows.flatMap((row, photographer) =>
    problem.stretches.map(
      ({ name }, i): Stay => ({ photographer, stretch: name, spot: problem.spots[row[i]!] ?? null }),
    ),
  );

/** Null: it cannot be walked, or goes against a wish. */
export function valuedDayOf(problem: DayProblem, rows: readonly Row[]): ValuedDay | null {
  const stays = staysOf(problem, rows);
  const judged = worthOfPlan(problem, stays);
  return judged.kind === 'worth' ? { stays, worth: judged.worth } : null;
}
