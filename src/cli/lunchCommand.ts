/** `tyrewall lunch <meeting>`: the morning, whom to look for, what the kit did, and the afternoon planned again beside the plan kept. */
import { DAY_MS } from '../core/plan/sheet/words.js';
import { lunchOf } from '../core/plan/timetable/index.js';
import { type WallMs, wallMsOf } from '../core/units.js';
import { lunchOfDay } from '../host/plan/lunch/lunchOfDay.js';
import { planAfternoon, type Solve } from '../host/plan/lunch/planAfternoon.js';
import type { AfternoonView } from '../host/plan/lunch/types.js';
import { startDaySolver } from '../host/plan/solver/index.js';
import { CliError } from './cliError.js';
import { lunchLines } from './lunchLines.js';
import { sayDecisions } from './sayDecisions.js';
import { sheetCommand } from './sheetCommand.js';
import { type DayWish, type OpenedDay, openDayOf } from './sheetDay.js';

export interface LunchCommandWish extends DayWish {
  /** The plan found becomes the plan. */
  readonly take?: boolean;
  /** Write the afternoon's run sheet, of the plan that stands then. */
  readonly sheet?: boolean;
  readonly solve?: Solve;
}

export async function lunchCommand(folder: string, wish: LunchCommandWish, say = console.log): Promise<void> {
  const opened = await openDayOf(folder, wish);
  const from = fromOf(opened);
  const lunch = lunchOfDay(opened.known, opened.state, from);
  const afternoon = lunch.cannotPlan.length > 0 ? null : await plannedBy(opened, from, wish.solve);
  if (wish.json === true) say(JSON.stringify(asData({ date: opened.date, ...lunch, afternoon }), null, 2));
  else for (const line of lunchLines(opened.known, lunch, afternoon)) say(line);
  if (wish.take === true) await take(folder, wish, opened, afternoon);
  if (wish.take === true && wish.json !== true) say('Taken: it is the plan of the afternoon.');
  if (wish.sheet === true) await sheetCommand(folder, { ...wish, json: false, from: clockOf(from) }, say);
}

/** What `--from` says; else now, where it is that day; else lunch. */
function fromOf({ known, wish }: OpenedDay): WallMs {
  const { day, slots, state } = known;
  if (wish.from !== undefined) return wish.from;
  if (wish.printedAt >= day && wish.printedAt < day + DAY_MS) return wish.printedAt;
  const lunch = lunchOf(slots, state.timetable?.pauses ?? []);
  return lunch?.start ?? wallMsOf(day + DAY_MS / 2);
}

const clockOf = (at: WallMs): string => new Date(at).toISOString().slice(11, 16);

async function plannedBy({ known, carriedKg }: OpenedDay, from: WallMs, solve?: Solve): Promise<AfternoonView> {
  if (solve !== undefined) return planAfternoon(known, { from, carriedKg }, solve);
  const solver = startDaySolver();
  try {
    return await planAfternoon(known, { from, carriedKg }, (problem, options) => solver.solve(problem, options));
  } finally {
    await solver.close();
  }
}

async function take(
  folder: string,
  { stateRoot }: LunchCommandWish,
  { wish: { printedAt } }: OpenedDay,
  afternoon: AfternoonView | null,
): Promise<void> {
  if (afternoon?.kind !== 'afternoon')
    throw new CliError('Expected an afternoon to take, but none could be planned: see above.');
  const decision = { kind: 'plan-taken', at: printedAt, stays: afternoon.take } as const;
  await sayDecisions(folder, stateRoot === undefined ? {} : { stateRoot }, [decision]);
}

/** Maps as objects. */
const asData = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value, (_, part: unknown) => (part instanceof Map ? Object.fromEntries(part) : part)));
