/** What is known of one day's plan, made again only where something it hangs on was said: light and ways take most of the time. */
import type { DecisionKind } from '../../core/log/types.js';
import { type AskedDay, type DayInputs, type Stay, whyUnseen, worthOfPlan } from '../../core/plan/day/index.js';
import { standsByHand } from '../../core/plan/sheet/hands.js';
import type { SheetSource } from '../../core/plan/sheet/types.js';
import { DAY_MS } from '../../core/plan/sheet/words.js';
import type { Stand } from '../../core/plan/types.js';
import { type WallMs, wallMsOf } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import { askedDayOf } from '../../host/plan/sheet/askedDay.js';
import { type AnswersWish, type CircuitAnswers, circuitAnswers } from '../../host/plan/sheet/circuitAnswers.js';
import { sourceOf } from '../../host/plan/sheet/saidOfPlan.js';
import { type SheetDay, sheetDayOf } from '../../host/plan/sheet/sheetOfDay.js';

export interface PlanKnown {
  readonly day: SheetDay;
  /** The plan that was taken, else the person's word. */
  readonly source: SheetSource;
  /** The whole day as the solver is asked for it, in halves; null: circuit or timetable is missing. */
  readonly asked: AskedDay | null;
  /** Where the day is running, only what begins later is asked for; null: it is not. */
  readonly underWay: DayInputs['underWay'];
  readonly askedNow: AskedDay | null;
}

export type PlanKnowing = (state: DayState, date: string, now: WallMs, carriedKg: number) => PlanKnown;

const HANGS_ON: ReadonlySet<DecisionKind> = new Set([
  'circuit',
  'permit',
  'timetable',
  'slip',
  'wishes',
  'sky',
  'speed-at',
  'plan-taken',
  'stood-at',
  'spots',
  'entries',
]);

/** Whoever asks twice of the same words gets the same record. */
export function createPlanKnowing(): PlanKnowing {
  const answering = rememberingAnswers();
  let last: { readonly hangsOn: readonly unknown[]; readonly known: PlanKnown } | null = null;
  return (state, date, now, carriedKg) => {
    const minute = underWayAt(state, date, now);
    const said = state.log.inForce.flatMap(({ decision }) => (HANGS_ON.has(decision.kind) ? [decision] : []));
    const hangsOn = [
      date,
      minute,
      carriedKg,
      JSON.stringify(state.timetable),
      state.arrangement.calibration?.fastestLapMs,
      ...said,
    ];
    if (last !== null && isSame(last.hangsOn, hangsOn)) return last.known;
    const known = knownOf(state, date, minute, carriedKg, answering);
    last = { hangsOn, known };
    return known;
  };
}

const isSame = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i]);

function knownOf(
  state: DayState,
  date: string,
  minute: WallMs | null,
  carriedKg: number,
  answering: typeof circuitAnswers,
): PlanKnown {
  const day = sheetDayOf(state, { date, hasVehicle: false }, answering);
  const source = sourceOf(state.log, state.timetable, day.day);
  const asked = askedDayOf(day, carriedKg, true);
  const underWay = asked === null || minute === null ? null : underWayOf(asked, source, minute);
  const askedNow = underWay === null ? asked : askedDayOf(day, carriedKg, true, underWay);
  return { day, source, asked, underWay, askedNow };
}

/** Of the circuit, its day and what was said of the sky: the last answers are kept. */
export function rememberingAnswers(): typeof circuitAnswers {
  let last: { readonly circuit: unknown; readonly wish: string; readonly answers: CircuitAnswers } | null = null;
  return (circuit, wish: AnswersWish) => {
    const words = JSON.stringify(wish);
    if (last?.circuit === circuit && last.wish === words) return last.answers;
    const answers = circuitAnswers(circuit, wish);
    last = { circuit, wish: words, answers };
    return answers;
  };
}

const MINUTE_MS = 60_000;

/** Null before the first session and after the last has begun. Who stands at a session stays to its end. */
function underWayAt({ timetable }: DayState, date: string, now: WallMs): WallMs | null {
  const day = Date.parse(date);
  const slots = (timetable?.slots ?? []).filter(({ start }) => start >= day && start < day + DAY_MS);
  const starts = slots.map(({ start }) => start);
  if (starts.length === 0 || now <= Math.min(...starts) || now >= Math.max(...starts)) return null;
  const running = slots.find(({ start, end }) => start <= now && now < end);
  return running?.end ?? wallMsOf(Math.floor(now / MINUTE_MS) * MINUTE_MS);
}

/** Where one stands by the plan or by one's word; what it had one see until then counts as seen. */
function underWayOf({ problem }: AskedDay, source: SheetSource, at: WallMs): NonNullable<DayInputs['underWay']> {
  const stays = staysOfSource({ problem }, source);
  const begun = problem.stretches.filter(({ from }) => from < at);
  const past = stays.filter(({ stretch, spot }) => spot !== null && begun.some(({ name }) => name === stretch));
  const isAtVan = problem.vanBreaks.some(({ from, to }) => from <= at && at < to);
  const places = Array.from({ length: problem.photographers }, (_, photographer) => {
    const own = past.filter((stay) => stay.photographer === photographer);
    const latest = own.toSorted((a, b) => timeOf(problem, a) - timeOf(problem, b)).at(-1);
    return isAtVan ? null : (latest?.spot ?? null);
  });
  const had = past.map(({ stretch, spot }) => {
    const row = problem.stretches.findIndex(({ name }) => name === stretch);
    return {
      group: problem.stretches[row]!.group,
      spot: spot!,
      worth: problem.worth[row]![problem.spots.indexOf(spot!)]!,
    };
  });
  return { at, places, had };
}

const timeOf = ({ stretches }: AskedDay['problem'], { stretch }: Stay): number =>
  stretches.find(({ name }) => name === stretch)?.from ?? 0;

/** As stays of the day's halves. What the day no longer has is passed over; the sheet says so. */
export function staysOfSource({ problem }: Pick<AskedDay, 'problem'>, source: SheetSource): readonly Stay[] {
  if (source.kind === 'plan') return source.stays.flatMap((stay) => inHalves(problem, stay));
  return handsIn(problem, source.stands).flatMap((stands, photographer) =>
    problem.stretches.flatMap(({ name, from, to }): readonly Stay[] => {
      const there = stands.find((stand) => stand.from <= (from + to) / 2 && stand.to > (from + to) / 2);
      return there !== undefined && problem.spots.includes(there.spot)
        ? [{ photographer, stretch: name, spot: there.spot }]
        : [];
    }),
  );
}

function handsIn({ photographers, stretches }: AskedDay['problem'], stands: readonly Stand[]) {
  if (photographers === 1) return [stands];
  const day = wallMsOf(Math.floor((stretches[0]?.from ?? 0) / DAY_MS) * DAY_MS);
  return standsByHand(stands, day).slice(0, photographers);
}

/**
 * Of a plan: what the day's reckoning knows of why sessions go by. Of what a person says nothing is known; nor, while the day
 * runs, of a session that is past: what it would have brought is no longer to be had.
 */
export const unseenWhy = ({ asked, askedNow }: PlanKnown, source: SheetSource): ReadonlyMap<string, string> =>
  asked === null || askedNow === null || source.kind === 'stands'
    ? new Map()
    : whyUnseen(askedNow, staysOfSource(askedNow, source));

function inHalves(problem: AskedDay['problem'], stay: Stay): readonly Stay[] {
  if (stay.photographer >= problem.photographers || (stay.spot !== null && !problem.spots.includes(stay.spot)))
    return [];
  return problem.stretches
    .filter(({ name, slot }) => name === stay.stretch || slot === stay.stretch)
    .map(({ name }) => ({ ...stay, stretch: name }));
}

/** Of the stays in these stretches, by the reckoning of a plan found; null: there are none, or they cannot be walked. */
export function worthOfStays({ problem }: AskedDay, stays: readonly Stay[]): number | null {
  const names = new Set(problem.stretches.map(({ name }) => name));
  const meant = stays.filter(({ stretch }) => names.has(stretch));
  const isKnown = ({ spot, photographer }: Stay) =>
    photographer < problem.photographers && (spot === null || problem.spots.includes(spot));
  if (meant.length === 0 || !meant.every(isKnown)) return null;
  const judged = worthOfPlan(problem, meant);
  return judged.kind === 'worth' ? judged.worth : null;
}
