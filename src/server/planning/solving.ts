/** The search for a plan, one at a time, in the solver's own thread: how far it is, what it found, stopping it. */
import type { AskedDay, DayPlan, FoundPlan, Stay } from '../../core/plan/day/index.js';
import { askNextBest, type DaySolver, startDaySolver } from '../../host/plan/solver/index.js';
import type { SolvingView } from '../planTypes.js';
import { type PlanKnown, worthOfStays } from './planKnown.js';

/** A plan that is good enough to take, in the time a hand takes to look at the rows. */
const LIMIT_S = 10;

type Search =
  | {
      readonly kind: 'running';
      readonly startedMs: number;
      readonly worth: number | null;
      readonly stop: AbortController;
    }
  | { readonly kind: 'answered'; readonly plan: DayPlan; readonly seconds: number }
  | { readonly kind: 'failed'; readonly sentence: string };

interface Asked {
  readonly date: string;
  readonly asked: AskedDay;
  /** Of the plan that stood, before what was asked for: they are kept. */
  readonly kept: readonly Stay[];
  readonly search: Search;
}

export interface Solving {
  view(date: string, known: PlanKnown, standing: readonly Stay[]): SolvingView;
  /** False while a search is running. */
  start(date: string, asked: AskedDay, kept: readonly Stay[]): boolean;
  /** The best until then is the answer. */
  stop(): void;
  /** Of this day, with what was kept before it; null: none was found, or it is gone. */
  found(date: string): { readonly plan: FoundPlan; readonly stays: readonly Stay[]; readonly asked: AskedDay } | null;
  letGo(): void;
  /** Null: without this stay there is no plan. */
  nextBest(asked: AskedDay, plan: FoundPlan, stay: Stay): Promise<string | null>;
  close(): Promise<void>;
}

export function createSolving(now: () => number, changed: () => void, begin = startDaySolver): Solving {
  let solver: DaySolver | null = null;
  let last: Asked | null = null;
  const put = (next: Asked | null): void => {
    last = next;
    changed();
  };
  const run = async (mine: Asked, stop: AbortController): Promise<void> => {
    const startedMs = now();
    const isMine = () => last?.asked === mine.asked && last.search.kind === 'running';
    let told: number | null = null;
    const soFar = (worth: number | null) => {
      if (isMine() && worth !== told) put({ ...mine, search: { kind: 'running', startedMs, worth, stop } });
      told = worth;
    };
    const end = (search: Search) => {
      if (isMine()) put({ ...mine, search });
    };
    solver ??= begin();
    try {
      const plan = await solver.solve(mine.asked.problem, {
        timeLimitS: LIMIT_S,
        signal: stop.signal,
        onFirst: ({ worth }) => soFar(worth),
        onProgress: ({ worth }) => soFar(worth),
      });
      end({ kind: 'answered', plan, seconds: (now() - startedMs) / 1000 });
    } catch (problem) {
      end({ kind: 'failed', sentence: problem instanceof Error ? problem.message : String(problem) });
    }
  };
  return {
    view: (date, known, standing) => viewOf(last, date, known, standing, now()),
    start(date, asked, kept) {
      if (last?.search.kind === 'running') return false;
      const stop = new AbortController();
      const mine: Asked = { date, asked, kept, search: { kind: 'running', startedMs: now(), worth: null, stop } };
      put(mine);
      void run(mine, stop);
      return true;
    },
    stop: () => last?.search.kind === 'running' && last.search.stop.abort(),
    found(date) {
      if (last?.date !== date || last.search.kind !== 'answered' || last.search.plan.kind !== 'plan') return null;
      const { plan } = last.search;
      return { plan, stays: [...last.kept, ...plan.stays], asked: last.asked };
    },
    letGo: () => last?.search.kind !== 'running' && put(null),
    async nextBest(asked, plan, stay) {
      solver ??= begin();
      return (await askNextBest(solver, asked.problem, plan, stay))?.sentence ?? null;
    },
    close: async () => solver?.close(),
  };
}

function viewOf(
  last: Asked | null,
  date: string,
  known: PlanKnown,
  standing: readonly Stay[],
  nowMs: number,
): SolvingView {
  if (last?.date !== date) return { kind: 'idle' };
  const { search } = last;
  const isOld = !isSameProblem(last.asked, known.askedNow);
  switch (search.kind) {
    case 'running':
      return { kind: 'running', seconds: (nowMs - search.startedMs) / 1000, limitS: LIMIT_S, worth: search.worth };
    case 'failed':
      return search;
    case 'answered':
      if (search.plan.kind === 'impossible') return { kind: 'impossible', sentence: search.plan.sentence, isOld };
      return {
        kind: 'found',
        plan: search.plan,
        seconds: search.seconds,
        standsWorth: worthOfStays(last.asked, standing),
        isOld,
      };
  }
}

/** The clock leaves the sessions that have begun behind; only what a person said makes a plan old. */
function isSameProblem(was: AskedDay, is: AskedDay | null): boolean {
  if (is === null || was === is) return was === is;
  const count = is.problem.stretches.length;
  const of = ({ problem: { stretches, worth, wishes, spots, photographers, ways } }: AskedDay) =>
    JSON.stringify([stretches.slice(-count), worth.slice(-count), wishes, spots, photographers, ways]);
  return of(was) === of(is);
}
