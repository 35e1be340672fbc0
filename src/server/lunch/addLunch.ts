/** The lunch sheet's part of the desk's API: how the morning stands, the afternoon planned anew, what the kit did. */
import type { Hono } from 'hono';
import { z } from 'zod';
import { carriedOf } from '../../core/office/index.js';
import type { Stay } from '../../core/plan/day/index.js';
import type { WallMs } from '../../core/units.js';
import type { Day } from '../../host/day/types.js';
import { startKitLooker } from '../../host/kit/index.js';
import type { OfficeFile } from '../../host/office/officeFile.js';
import { takenOf } from '../../host/plan/lunch/lunchOfDay.js';
import { planAfternoon } from '../../host/plan/lunch/planAfternoon.js';
import { lastSaid } from '../../host/plan/sheet/saidOfPlan.js';
import { type DaySolver, startDaySolver } from '../../host/plan/solver/index.js';
import { DeskError } from '../DeskError.js';
import { firstTrouble } from '../decisionSchema.js';
import type { Changes } from '../events.js';
import { shownDate } from '../views/dayLine.js';
import { type Known, knownOf } from '../views/known.js';
import { type AfternoonBoard, createAfternoonBoard, type Planning } from './afternoonBoard.js';
import { compareView } from './compareView.js';
import { createDustBoard } from './dustBoard.js';
import { headlineAtLunch, leadAtLunch } from './headline.js';
import { kitView } from './kitView.js';
import { createLunchKnowing, type LunchKnown } from './lunchKnown.js';
import { watchViews } from './lunchView.js';
import { addSpotPictures } from './spotPictures.js';
import type { LunchSheetView, PlanningView } from './types.js';

export interface LunchParts {
  readonly day: Day;
  readonly changes: Changes;
  readonly wallNow: () => WallMs;
  readonly now: () => number;
  readonly office: OfficeFile | null;
}

/** The whole search, both askings. */
const LIMIT_S = 10;

const dateRequest = z.strictObject({ date: z.string().regex(/^\d{4}-\d\d-\d\d$/) });

/** Answers how to end what it started. */
export function addLunch(app: Hono, { day, changes, wallNow, now, office }: LunchParts): () => Promise<void> {
  const tell = () => changes.announce('lunch');
  const looker = startKitLooker();
  const dust = createDustBoard(day, looker, tell);
  const board = createAfternoonBoard(now, tell);
  const knowing = createLunchKnowing();
  let solver: DaySolver | null = null;

  app.get('/api/kit', async (context) => {
    const kit = office === null ? null : (await office.read()).kit;
    return context.json(kitView(knownOf(day.state()), { dust, kit, now: wallNow() }));
  });
  addSpotPictures(app, day, looker);
  app.get('/api/lunch', (context) => {
    const known = knownOf(day.state());
    const date = shownDate(known, wallNow(), context.req.query('date'));
    return context.json(
      lunchSheetView(known, knowing(known, date, wallNow()), { date, now: wallNow(), board, nowMs: now() }),
    );
  });
  app.post('/api/lunch/plan', async (context) => {
    const parsed = dateRequest.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success) throw new DeskError(400, `Expected a day of the meeting. ${firstTrouble(parsed.error)}.`);
    const known = knownOf(day.state());
    const { day: sheetDay, lunch } = knowing(known, parsed.data.date, wallNow());
    if (lunch.cannotPlan.length > 0) throw new DeskError(409, lunch.cannotPlan.join(' '));
    const kit = (await office?.read().catch(() => null))?.kit ?? null;
    const carriedKg = kit === null ? 0 : carriedOf(kit).kg;
    solver ??= startDaySolver();
    const asking = solver;
    const isStarted = board.start(askedWith(known, parsed.data.date), ({ signal, onFirst }) =>
      planAfternoon(sheetDay, { from: lunch.from, carriedKg }, (problem, options) => asking.solve(problem, options), {
        signal,
        onFirst,
      }),
    );
    if (!isStarted)
      throw new DeskError(409, 'The afternoon is being planned already. Stop that search first, or wait some seconds.');
    return context.json({ started: true }, 202);
  });
  app.post('/api/lunch/stop', (context) => {
    board.stop();
    return context.json({ stopped: true });
  });
  app.post('/api/lunch/keep', (context) => {
    board.putAway();
    return context.json({ kept: true });
  });
  return async () => {
    await Promise.allSettled([looker.close(), solver?.close()]);
  };
}

/** Whatever of these changes makes a plan stale. Taking it, or taking that back, does not. */
function askedWith({ state: { log, arrangement, toMeasure } }: Known, date: string): string {
  const said = log.inForce.flatMap(({ decision, line }) =>
    decision.kind === 'plan-taken' || decision.kind === 'calibration' ? [] : [`${line.writer}/${line.seq}`],
  );
  return [date, arrangement.exposures.length, toMeasure.left, ...said].join();
}

interface Moment {
  readonly date: string;
  readonly now: WallMs;
  readonly nowMs: number;
  readonly board: AfternoonBoard;
}

function lunchSheetView(
  known: Known,
  { day, lunch, morning }: LunchKnown,
  { date, now, nowMs, board }: Moment,
): LunchSheetView {
  const planning = board.current();
  const found = planning.kind === 'answered' && planning.answer.kind === 'afternoon' ? planning.answer : null;
  return {
    asOf: known.state.asOf,
    date,
    headline: headlineAtLunch(known, lunch, now),
    lead: leadAtLunch(known, lunch, now),
    ...morning,
    hasPlan: takenOf(day) !== null,
    ...watchViews(known, lunch, found?.meetings ?? null),
    planning: planningView(known, { day, lunch, morning }, planning, { date, now, nowMs }),
  };
}

function planningView(
  known: Known,
  lunching: LunchKnown,
  planning: Planning,
  { date, now, nowMs }: Omit<Moment, 'board'>,
): PlanningView {
  switch (planning.kind) {
    case 'idle':
      return planning;
    case 'running': {
      const seconds = (nowMs - planning.startedMs) / 1000;
      return { kind: 'running', seconds, limitS: LIMIT_S, hasPlan: planning.hasPlan };
    }
    case 'failed':
      return { kind: 'nothing', sentence: planning.sentence };
    case 'answered': {
      const { answer, asked } = planning;
      if (answer.kind === 'none') return { kind: 'nothing', sentence: answer.sentence };
      const stands = lastSaid(known.state.log, 'plan-taken')?.stays ?? null;
      return {
        kind: 'found',
        compare: compareView(known, lunching, answer),
        take: { kind: 'plan-taken', at: now, stays: answer.take },
        isTaken: stands !== null && isSamePlan(stands, answer.take),
        isStale: asked !== askedWith(known, date),
      };
    }
  }
}

/** Stays as they were said and as they were found may have their fields in another order. */
const isSamePlan = (a: readonly Stay[], b: readonly Stay[]): boolean => planKey(a) === planKey(b);
const planKey = (stays: readonly Stay[]): string =>
  stays
    .map(({ photographer, stretch, spot }) => [photographer, stretch, spot].join('/'))
    .sort()
    .join();
