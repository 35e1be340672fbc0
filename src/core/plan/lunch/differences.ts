/** The plan kept and the plan found, session by session. Rule PL1210. */
import type { SpotId } from '../../ids.js';
import { wallMsOf } from '../../units.js';
import type { AskedDay } from '../day/problemOfDay.js';
import type { DayProblem, Stay, Stretch } from '../day/types.js';
import { whyStays } from '../day/whyStays.js';
import { worthOfPlan } from '../day/worthOfPlan.js';
import type { DifferenceRow, KeptPlan } from './types.js';

/** A plan taken before, as stays of these stretches: it may name whole sessions, and what the day no longer has. */
export function keptStaysOf(
  problem: DayProblem,
  taken: readonly Stay[],
  isOver: (stretch: string) => boolean,
): Omit<KeptPlan, 'worth'> {
  const stays = problem.stretches.flatMap((stretch) =>
    taken
      .filter((stay) => stay.stretch === stretch.name || stay.stretch === stretch.slot)
      .map((stay) => ({ ...stay, stretch: stretch.name })),
  );
  const known = stays.filter(
    ({ spot, photographer }) => isKnown(problem, spot) && photographer < problem.photographers,
  );
  const names = new Set(problem.stretches.flatMap(({ name, slot }) => [name, slot]));
  const gone = [...new Set(taken.flatMap(({ stretch }) => (names.has(stretch) || isOver(stretch) ? [] : [stretch])))];
  const judged = worthOfPlan(problem, known);
  return {
    stays: known,
    troubles: [
      ...gone.map((name) => `The plan holds ${name}, which the timetable no longer has.`),
      ...(known.length < stays.length ? ['The plan stands at a spot that the circuit no longer has.'] : []),
      ...(judged.kind === 'broken' ? judged.sentences : []),
    ],
  };
}

const isKnown = ({ spots }: DayProblem, spot: SpotId | null): boolean => spot === null || spots.includes(spot);

export function differencesOf(
  asked: AskedDay,
  kept: readonly Stay[] | null,
  found: readonly Stay[],
): readonly DifferenceRow[] {
  const { problem } = asked;
  const whys = new Map(whyStays(asked, found).map(({ stay, words }) => [keyOf(stay), words]));
  const rows = Array.from({ length: problem.photographers }, (_, photographer) =>
    joined(
      problem.stretches.map((stretch): Row => {
        const at = (stays: readonly Stay[]): SpotId | null =>
          stays.find((stay) => stay.photographer === photographer && stay.stretch === stretch.name)?.spot ?? null;
        return {
          ...rowOf(stretch, kept === null ? null : at(kept), at(found)),
          photographer,
          reason: whys.get(keyOf({ photographer, stretch: stretch.name })) ?? NOWHERE,
        };
      }),
    ),
  );
  return rows.flat();
}

const NOWHERE = 'On the way, or resting.';

const keyOf = ({ photographer, stretch }: Pick<Stay, 'photographer' | 'stretch'>): string =>
  `${photographer} ${stretch}`;

interface Row extends DifferenceRow {
  readonly slot: string;
}

const rowOf = (
  { name, slot, group, from, to }: Stretch,
  kept: SpotId | null,
  found: SpotId | null,
): Omit<Row, 'photographer' | 'reason'> => ({
  kind: kept === found ? 'same' : kept === null ? 'only-found' : found === null ? 'only-kept' : 'changed',
  stretch: name,
  slot,
  group,
  from,
  to,
  kept,
  found,
});

/** Halves that are alike in both plans are one row. */
function joined(rows: readonly Row[]): DifferenceRow[] {
  const out: Row[] = [];
  for (const row of rows) {
    const last = out.at(-1);
    const isOne = last?.slot === row.slot && last.kept === row.kept && last.found === row.found;
    if (isOne) out[out.length - 1] = { ...last!, stretch: row.slot, to: wallMsOf(row.to) };
    else out.push(row);
  }
  return out.map(({ slot: _, ...row }) => row);
}

/** What is taken: the day until now as it was planned, the rest as it was found. */
export function takenStays(
  planned: readonly Stretch[],
  before: readonly Stay[],
  found: readonly Stay[],
): readonly Stay[] {
  const names = new Set(planned.flatMap(({ name, slot }) => [name, slot]));
  return [...before.filter(({ stretch }) => !names.has(stretch)), ...found];
}
