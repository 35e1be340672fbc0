/** `tyrewall plan <meeting>`: where to stand and when, why, in which light, from which shutter. Only --take changes anything. */
import type { Decision } from '../core/log/types.js';
import { type AskedDay, type DayPlan, type FoundPlan, toldGap, whyStays } from '../core/plan/day/index.js';
import type { SheetSource } from '../core/plan/sheet/types.js';
import { askedDayOf } from '../host/plan/sheet/askedDay.js';
import { lastSaid, sourceOf } from '../host/plan/sheet/saidOfPlan.js';
import { sheetOf } from '../host/plan/sheet/sheetOfDay.js';
import { startDaySolver } from '../host/plan/solver/index.js';
import { CliError } from './cliError.js';
import { type PlanShown, planLines } from './planLines.js';
import { reckonedDayOf, staysWithin, unseenWhyOf } from './reckonedPlan.js';
import { sayDecisions } from './sayDecisions.js';
import { type DayWish, type OpenedDay, openDayOf } from './sheetDay.js';

export interface PlanCommandWish extends DayWish {
  /** Ask the solver, whatever was taken or said. */
  readonly anew?: boolean;
  /** What the solver found becomes the plan. */
  readonly take?: boolean;
  readonly solve?: (asked: AskedDay) => Promise<DayPlan>;
}

export async function planCommand(folder: string, wish: PlanCommandWish, say = console.log): Promise<void> {
  const opened = await openDayOf(folder, wish);
  const shown = await shownOf(opened, wish);
  if (wish.json === true) say(JSON.stringify({ date: opened.date, ...shown }, null, 2));
  else for (const line of planLines(shown, wish.take === true)) say(line);
  if (wish.take !== true) return;
  const told = await take(folder, wish, opened, shown);
  if (wish.json !== true) say(told);
}

/** Refused where the solver was not asked: there is nothing new to take. */
async function take(folder: string, wish: PlanCommandWish, opened: OpenedDay, shown: PlanShown): Promise<string> {
  if (shown.found === null || shown.found.stays.every(({ spot }) => spot === null))
    throw new CliError(
      'Expected a plan from the solver to take, but there is none: see above. With --anew it is asked whatever was taken or said.',
    );
  const state = wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot };
  const taken: Decision = { kind: 'plan-taken', at: opened.wish.printedAt, stays: shown.found.stays };
  await sayDecisions(folder, state, [...supposedOf(opened, wish), taken]);
  return 'Taken. tyrewall sheet makes the run sheet of it.';
}

/** What the plan was made with becomes the meeting's word with it, or its ways would be closed on the next sheet. */
function supposedOf({ known: { state } }: OpenedDay, { permit, vehicle }: PlanCommandWish): readonly Decision[] {
  const wishes = lastSaid(state.log, 'wishes');
  return [
    ...(permit === undefined || lastSaid(state.log, 'permit')?.has === permit
      ? []
      : [{ kind: 'permit', has: permit } as const]),
    ...(vehicle !== true || wishes?.hasVehicle === true
      ? []
      : [{ ...wishes, kind: 'wishes', wishes: wishes?.wishes ?? [], hasVehicle: true } as const]),
  ];
}

async function shownOf(opened: OpenedDay, { anew = false, solve = solveHere }: PlanCommandWish): Promise<PlanShown> {
  const { state, day } = opened.known;
  const source = sourceOf(state.log, state.timetable, day);
  const reckoned = reckonedDayOf(opened, source);
  const said = sheetOf(opened.known, opened.wish, source, unseenWhyOf(reckoned, source));
  if (said.stands.length > 0 && !anew) {
    return { from: source.kind === 'plan' ? 'taken' : 'said', sheet: said, ...whysOf(reckoned, source) };
  }
  const asked = askedDayOf(opened.known, opened.carriedKg, true);
  if (asked === null) return { from: 'said', sheet: said, whys: [], found: null, remarks: notAsked(opened) };
  const plan = await solve(asked);
  if (plan.kind === 'impossible') return { from: 'said', sheet: said, whys: [], found: null, remarks: [plan.sentence] };
  const found: SheetSource = { kind: 'plan', stays: plan.stays, stretches: asked.problem.stretches };
  const sheet = sheetOf(opened.known, opened.wish, found, unseenWhyOf(asked, found));
  return { from: 'found', sheet, ...whysOf(asked, found), found: foundOf(plan) };
}

/** Why each stay, where there is a circuit and a timetable to reckon with. */
function whysOf(asked: AskedDay | null, source: SheetSource): Pick<PlanShown, 'whys' | 'found' | 'remarks'> {
  const whys = asked === null || source.kind === 'stands' ? [] : whyStays(asked, staysWithin(asked, source));
  return {
    whys: whys.map(({ stay, words }) => ({ photographer: stay.photographer, stretch: stay.stretch, words })),
    found: null,
    remarks: asked?.unheard ?? [],
  };
}

const foundOf = (plan: FoundPlan): PlanShown['found'] => ({
  isProvenBest: plan.isProvenBest,
  gap: toldGap(plan),
  stays: plan.stays,
});

function notAsked({ known }: OpenedDay): readonly string[] {
  const missing = [
    ...(known.circuit === null ? ['the circuit with its spots'] : []),
    ...(known.slots.length === 0 ? ['a timetable of this day'] : []),
  ];
  return [
    `A plan needs ${missing.join(' and ')}: say so at the desk (tyrewall open). Or say where you stand and when.`,
  ];
}

async function solveHere({ problem }: AskedDay): Promise<DayPlan> {
  const solver = startDaySolver();
  try {
    return await solver.solve(problem);
  } finally {
    await solver.close();
  }
}
