/** The afternoon planned again from what the morning left owed, with the solver of this machine. Rule PL1208. */
import { setImmediate as othersTurn } from 'node:timers/promises';
import type { Morning } from '../../../core/cover/lunch/types.js';
import type { SpotId } from '../../../core/ids.js';
import { cautionsOf } from '../../../core/plan/care/cautions.js';
import { careStaysOf } from '../../../core/plan/care/staysOfPlan.js';
import { stretchesOfDay } from '../../../core/plan/day/stretchesOfDay.js';
import type { DayPlan, DayProblem, Stay, Stretch } from '../../../core/plan/day/types.js';
import { planAgain, takenStays } from '../../../core/plan/lunch/index.js';
import type { WallMs } from '../../../core/units.js';
import { dayInputsOf, type PlainDayInputs } from '../sheet/askedDay.js';
import type { SheetDay } from '../sheet/sheetOfDay.js';
import type { AskOptions } from '../solver/index.js';
import { takenOf } from './lunchOfDay.js';
import { meetingsOf } from './meetings.js';
import { morningOfDay } from './morningOfDay.js';
import type { AfternoonView } from './types.js';

export interface AfternoonWish {
  readonly from: WallMs;
  readonly carriedKg: number;
  /** By photographer, where they are at `from`; null or absent: at the van. */
  readonly places?: readonly (SpotId | null)[];
}

export type Solve = (problem: DayProblem, options: AskOptions) => Promise<DayPlan>;

/** The whole shall be there in ten seconds; the rest is for bettering what the solver found. */
const SOLVER_LIMIT_S = 5;
const WHOLE_LIMIT_MS = 9_500;

export async function planAfternoon(
  known: SheetDay,
  { from, carriedKg, places = [] }: AfternoonWish,
  solve: Solve,
  options: Omit<AskOptions, 'timeLimitS' | 'gap'> = {},
): Promise<AfternoonView> {
  const morning = morningOfDay(known, from);
  const inputs = dayInputsOf(known, carriedKg, true);
  const stretches = inputs === null ? [] : stretchesOfDay(inputs.timetable, true, from);
  if (inputs === null || stretches.length === 0)
    return {
      kind: 'none',
      sentence: 'There is no afternoon to plan: it needs the circuit, the timetable and a session to come.',
    };
  const taken = takenOf(known);
  const begun = performance.now();
  const answer = await planAgain(
    {
      inputs: { ...inputs, lapOf: lapsOfGroups(morning, inputs.lapOf) },
      morning,
      wish: { from, places: Array.from({ length: known.photographers }, (_, i) => places[i] ?? null) },
      taken,
    },
    (problem) => solve(problem, { ...options, timeLimitS: SOLVER_LIMIT_S }),
    async () => {
      await othersTurn();
      return options.signal?.aborted === true || performance.now() - begun > WHOLE_LIMIT_MS;
    },
  );
  if ('kind' in answer) return { kind: 'none', sentence: answer.sentence };
  return {
    kind: 'afternoon',
    afternoon: answer,
    take: takenStays(stretches, taken ?? [], answer.found.stays),
    meetings: meetingsOf(morning.watch, stretches, answer.found.stays),
    cautions: cautionsHere(known, stretches, answer.found.stays),
  };
}

/** As the morning showed them; of a group it did not show, as they were reckoned before the day. */
const lapsOfGroups = ({ groups }: Morning, before: PlainDayInputs['lapOf']): NonNullable<PlainDayInputs['lapOf']> => {
  const laps = new Map(groups.map(({ group, lap }) => [group, lap]));
  return (group) => {
    const lap = laps.get(group) ?? null;
    return lap === null ? (before?.(group) ?? null) : { ms: lap.ms, guessedFrom: null };
  };
};

function cautionsHere(
  { circuit, answers, photographers }: SheetDay,
  stretches: readonly Stretch[],
  stays: readonly Stay[],
): readonly string[] {
  if (circuit === null || answers === null) return [];
  const distanceM = new Map([...answers.views].map(([spot, view]) => [spot, view.distanceM]));
  const careStays = Array.from({ length: photographers }, (_, photographer) =>
    careStaysOf({ stays, stretches, spots: circuit.spots, distanceM }, photographer),
  );
  const usesServiceRoad = careStays.some((own) =>
    own.some(({ spot }, i) => {
      const way = answers.wayBetween(own[i - 1]?.spot.id ?? null, spot.id);
      return way.kind === 'way' && way.way.usesServiceRoad === true;
    }),
  );
  return cautionsOf(careStays.flat(), usesServiceRoad).map(({ spot, sentence }) =>
    spot === null ? sentence : `${spot.name}: ${sentence}`,
  );
}
