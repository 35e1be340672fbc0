/** The Plan sheet's part of the desk's API: the plan, its search, ladders, and the run sheet on paper and as a calendar. */
import type { Hono } from 'hono';
import { z } from 'zod';
import { carriedOf, NOTHING_SAID, type Office } from '../../core/office/index.js';
import type { FoundPlan, Stay } from '../../core/plan/day/index.js';
import type { DayTimes } from '../../core/plan/sheet/types.js';
import { epochMsOf, type WallMs, wallMsOf } from '../../core/units.js';
import type { Day } from '../../host/day/types.js';
import type { OfficeFile } from '../../host/office/officeFile.js';
import { calendarKept } from '../../host/plan/calendar/keptCalendar.js';
import { runSheetCalendar } from '../../host/plan/calendar/runSheetCalendar.js';
import { runSheetPdf } from '../../host/plan/paper/runSheetPdf.js';
import { sheetOf, sheetsOfDay } from '../../host/plan/sheet/sheetOfDay.js';
import type { DaySolver } from '../../host/plan/solver/index.js';
import { DeskError } from '../DeskError.js';
import { firstTrouble } from '../decisionSchema.js';
import type { Changes } from '../events.js';
import type { NextBestView } from '../planTypes.js';
import { shownDate } from '../views/dayLine.js';
import { knownOf } from '../views/known.js';
import { ladderView } from './ladderView.js';
import { createPlanKnowing, type PlanKnown, staysOfSource, unseenWhy, worthOfStays } from './planKnown.js';
import { planView } from './planView.js';
import { createSolving } from './solving.js';

export interface PlanParts {
  readonly day: Day;
  readonly changes: Changes;
  readonly wallNow: () => WallMs;
  readonly now: () => number;
  readonly office: OfficeFile | null;
  /** Of the meeting; absent: this desk writes nothing there. */
  readonly folder?: string | undefined;
  /** Absent: HiGHS in its own thread. */
  readonly beginSolver?: () => DaySolver;
}

const dateRequest = z.strictObject({ date: z.string().regex(/^\d{4}-\d\d-\d\d$/) });
const stayRequest = dateRequest.extend({
  photographer: z.number().int().nonnegative(),
  stretch: z.string().min(1).max(200),
});

/** Answers how to end what it started. */
export function addPlan(
  app: Hono,
  { day, changes, wallNow, now, office, folder, beginSolver }: PlanParts,
): () => Promise<void> {
  const knowing = createPlanKnowing();
  const solving = createSolving(now, () => changes.announce('plan'), beginSolver);
  const papers = async (): Promise<Office | null> => office?.read().catch(() => null) ?? null;
  const look = async (asked: string | undefined) => {
    const state = day.state();
    const date = shownDate(knownOf(state), wallNow(), asked);
    const own = await papers();
    const plan = knowing(state, date, wallNow(), own === null ? 0 : carriedOf(own.kit).kg);
    return { state, date, plan, own };
  };

  app.get('/api/plan', async (context) => {
    const { state, date, plan, own } = await look(context.req.query('date'));
    const times = timesOf(own, state.about.id, plan.day.day);
    return context.json(planView({ state, plan, solving, date, now: wallNow(), times }));
  });
  app.get('/api/plan/ladder', async (context) => {
    const { state, plan } = await look(context.req.query('date'));
    const at = Number(context.req.query('at') ?? Number.NaN);
    const spot = context.req.query('spot') ?? '';
    return context.json(ladderView(state, plan, spot, Number.isFinite(at) ? wallMsOf(at) : null));
  });
  app.post('/api/plan/search', async (context) => {
    const { date, plan } = await look(dateOfBody(await context.req.json().catch(() => null)));
    if (plan.asked === null || plan.askedNow === null)
      throw new DeskError(409, 'Expected a circuit with spots and a timetable of this day before a plan can be made.');
    if (!solving.start(date, plan.askedNow, keptOf(plan)))
      throw new DeskError(409, 'A plan is being looked for already. End that search first, or wait some seconds.');
    return context.json({ started: date }, 202);
  });
  app.post('/api/plan/stop', (context) => {
    solving.stop();
    return context.json({ stopped: true });
  });
  app.post('/api/plan/let-go', (context) => {
    solving.letGo();
    return context.json({ gone: true });
  });
  app.post('/api/plan/next-best', async (context) => {
    const parsed = stayRequest.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success) throw new DeskError(400, `Expected a stay of the plan. ${firstTrouble(parsed.error)}.`);
    const { plan } = await look(parsed.data.date);
    const view: NextBestView = { sentence: await nextBestOf(plan, parsed.data) };
    return context.json(view);
  });
  addPapers(app, { day, now, wallNow, folder }, look);
  return solving.close;

  async function nextBestOf(plan: PlanKnown, { date, photographer, stretch }: z.infer<typeof stayRequest>) {
    const found = solving.found(date);
    const asked = found?.asked ?? plan.asked;
    const stays = found?.plan.stays ?? (asked === null ? [] : staysOfSource(asked, plan.source));
    const stay = stays.find((one) => one.photographer === photographer && one.stretch === stretch);
    if (asked === null || stay === undefined || stay.spot === null)
      throw new DeskError(404, `Expected a stay at a spot of the plan that is drawn, but in ${stretch} there is none.`);
    const standing = found?.plan ?? asFound(stays, worthOfStays(asked, stays));
    if (standing === null)
      throw new DeskError(
        409,
        'What stands cannot be walked as it is, so nothing can be told of what else would cost.',
      );
    return (
      (await solving.nextBest(asked, standing, stay)) ??
      'Without this stay no plan keeps all wishes: it is the only one.'
    );
  }
}

const asFound = (stays: readonly Stay[], worth: number | null): FoundPlan | null =>
  worth === null ? null : { kind: 'plan', stays, worth, bound: null, isProvenBest: false, from: 'greedy' };

/** What is gone by of a running day stays as it was planned or said. */
function keptOf({ asked, askedNow, source }: PlanKnown): readonly Stay[] {
  if (asked === null || askedNow === asked) return [];
  const open = new Set(askedNow?.problem.stretches.map(({ name }) => name));
  return staysOfSource(asked, source).filter(({ stretch }) => !open.has(stretch));
}

function dateOfBody(body: unknown): string {
  const parsed = dateRequest.safeParse(body);
  if (!parsed.success) throw new DeskError(400, `Expected a day of the meeting. ${firstTrouble(parsed.error)}.`);
  return parsed.data.date;
}

type Look = (asked: string | undefined) => Promise<{ date: string; plan: PlanKnown; own: Office | null }>;

type PaperParts = Pick<PlanParts, 'day' | 'now' | 'wallNow' | 'folder'>;

/** Of the plan that stands: what was found is nobody's until it is taken. */
function addPapers(app: Hono, { day, now, wallNow, folder }: PaperParts, look: Look): void {
  const sheet = async (asked: string | undefined, photographerAsked: string | undefined) => {
    const { date, plan, own } = await look(asked);
    const photographer = Number(photographerAsked ?? 0);
    const sheets = sheetsOfDay(plan.day);
    if (!Number.isInteger(photographer) || photographer < 0 || photographer >= sheets)
      throw new DeskError(404, `Expected a photographer from 0 to ${sheets - 1}.`);
    const times = timesOf(own, day.state().about.id, plan.day.day);
    const wish = { date, printedAt: wallNow(), photographer, hasVehicle: false, times };
    const made = sheetOf(plan.day, wish, plan.source, unseenWhy(plan, plan.source));
    return { made, date, photographer };
  };
  app.get('/api/plan/run-sheet.pdf', async (context) => {
    const { made, date } = await sheet(context.req.query('date'), context.req.query('photographer'));
    const { pdf } = await runSheetPdf(made, new Date(now()));
    return context.body(new Uint8Array(pdf), 200, {
      'Content-Type': 'application/pdf',
      'Content-Disposition': `inline; filename="run-sheet-${date}.pdf"`,
    });
  });
  app.get('/api/plan/run-sheet.ics', async (context) => {
    const { made, date, photographer } = await sheet(context.req.query('date'), context.req.query('photographer'));
    const options = { meetingId: day.state().about.id, madeAt: epochMsOf(now()), photographer };
    const calendar =
      folder === undefined ? runSheetCalendar(made, options) : await calendarKept(folder, date, made, options);
    return context.body(calendar, 200, {
      'Content-Type': 'text/calendar; charset=utf-8',
      'Content-Disposition': `attachment; filename="run-sheet-${date}.ics"`,
    });
  });
}

function timesOf(office: Office | null, meeting: string, day: WallMs): DayTimes {
  const { signOn, briefing } = office?.meetings[meeting] ?? NOTHING_SAID;
  return {
    ...(signOn === undefined ? {} : { signOn: clockOn(day, signOn) }),
    ...(briefing === undefined || briefing === 'none' ? {} : { briefing: clockOn(day, briefing) }),
  };
}

const clockOn = (day: WallMs, clock: string): WallMs => {
  const [hours, minutes] = clock.split(':').map(Number);
  return wallMsOf(day + ((hours ?? 0) * 60 + (minutes ?? 0)) * 60_000);
};
