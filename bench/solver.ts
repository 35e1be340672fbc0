/** The day's solver to within 1 %: time and gap of the day that was asked for, growth with its size, what the tightening rows bring. */
import { inventedDay } from '../demo/plan/inventedDay.js';
import { type DayProblem, gapOf, modelOfDay } from '../src/core/plan/day/index.js';
import { type Highs, runModel, startHighs } from '../src/host/plan/solver/highs.js';
import { askNextBest, startDaySolver } from '../src/host/plan/solver/index.js';
import { solveDay } from '../src/host/plan/solver/solveDay.js';
import type { Figures } from '../tools/figures.js';

const SEEDS = [1, 2, 3];
const GAP = 0.01;
const LIMIT_S = 10;
/** Of the tables, where what is not near enough by then is printed as it stands. */
const TABLE_LIMIT_S = 4;

interface Measured {
  readonly seconds: readonly number[];
  readonly gaps: readonly number[];
}

export async function benchSolver(): Promise<Figures> {
  const highs = await startHighs();
  measure(highs, [inventedDay({ seed: 9, sessions: 6, halves: 2, spots: 3 })]);
  const asked = measure(highs, daysOf(21, 8));
  await askedWhatElse();
  growth(highs);
  harder(highs);
  rowsThatTighten(highs);
  return {
    'solver.s21x2x8': {
      value: middle(asked.seconds),
      unit: 's',
      better: 'lower',
      note: `${spread(asked.seconds)}; 5 asked`,
    },
    'solver.gap21x2x8': {
      value: 100 * Math.max(...asked.gaps),
      unit: '%',
      better: 'lower',
      note: 'the widest; 1 asked',
    },
  };
}

/** "What would the next best cost?" for one stay of a plan that stands. */
async function askedWhatElse(): Promise<void> {
  const solver = startDaySolver();
  for (const problem of daysOf(21, 8)) {
    const plan = await solver.solve(problem);
    if (plan.kind !== 'plan') continue;
    const stays = plan.stays.filter(({ spot }) => spot !== null);
    const began = performance.now();
    const next = await askNextBest(solver, problem, plan, stays[Math.floor(stays.length / 2)]!);
    console.log(`  asked for the next best: ${((performance.now() - began) / 1000).toFixed(2)} s. ${next?.sentence}`);
  }
  await solver.close();
}

const daysOf = (sessions: number, spots: number): DayProblem[] =>
  SEEDS.map((seed) => inventedDay({ seed, sessions, halves: 2, spots }));

function measure(highs: Highs, problems: readonly DayProblem[], timeLimitS = LIMIT_S): Measured {
  const seconds: number[] = [];
  const gaps: number[] = [];
  for (const problem of problems) {
    const began = performance.now();
    const plan = solveDay(highs, problem, { gap: GAP, timeLimitS });
    seconds.push((performance.now() - began) / 1000);
    if (plan.kind === 'plan') gaps.push(gapOf(plan) ?? Number.POSITIVE_INFINITY);
  }
  return { seconds, gaps };
}

const middle = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;

const spread = (values: readonly number[]): string =>
  `${Math.min(...values).toFixed(2)} to ${Math.max(...values).toFixed(2)} s over ${values.length} days`;

/** Sessions in halves, so twice as many stretches. The growth is that of the time from the row before: a doubling is 2. */
function growth(highs: Highs): void {
  console.log(
    `  sessions in halves by spots, one day each: seconds, growth and gap, at most about ${2 * TABLE_LIMIT_S} s`,
  );
  let before: readonly number[] = [];
  for (const sessions of [10, 21, 42]) {
    const cells = [3, 8, 15].map((spots) => measure(highs, daysOf(sessions, spots).slice(0, 1), 2 * TABLE_LIMIT_S));
    const times = cells.map(({ seconds }) => middle(seconds));
    const words = cells.map(({ gaps }, i) => {
      const grown = before[i] === undefined ? '' : `, × ${(times[i]! / before[i]!).toFixed(1)}`;
      return `${[3, 8, 15][i]} spots ${times[i]!.toFixed(2)} s${grown} (${(100 * Math.max(...gaps)).toFixed(2)} %)`;
    });
    console.log(`  ${String(sessions).padStart(4)}: ${words.join('  ')}`);
    before = times;
  }
}

/** What is harder than the day that was asked for: two photographers, and a limit between rests. */
function harder(highs: Highs): void {
  const kinds = { 'two photographers': { photographers: 2 }, 'a rest after 150 min': { restAfterMinutes: 150 } };
  for (const [name, more] of Object.entries(kinds)) {
    const days = [1, 2].map((seed) => inventedDay({ seed, sessions: 21, halves: 2, spots: 8, ...more }));
    const { seconds, gaps } = measure(highs, days, TABLE_LIMIT_S);
    console.log(`  ${name}: ${spread(seconds)}, gaps ${gaps.map((gap) => `${(100 * gap).toFixed(2)} %`).join(', ')}`);
  }
}

/** What the rows bring that only tighten: the bound at the root of a day of 10 sessions and 5 spots, and the time. */
function rowsThatTighten(highs: Highs): void {
  const problem = inventedDay({ seed: 1, sessions: 10, halves: 2, spots: 5 });
  for (const without of [undefined, 'coming', 'stands', 'both'] as const) {
    const { text } = modelOfDay(problem, without === undefined ? {} : { without });
    const relaxed = runModel(highs, text.replace(/General[\s\S]*End/, 'End'), { gap: 0, timeLimitS: TABLE_LIMIT_S });
    const began = performance.now();
    const whole = runModel(highs, text, { gap: GAP, timeLimitS: TABLE_LIMIT_S });
    const seconds = (performance.now() - began) / 1000;
    const worth = (outcome: typeof whole) =>
      outcome.kind === 'solution' ? outcome.objective.toFixed(2) : outcome.kind;
    console.log(
      `  without ${without ?? 'none'} of the tightening rows: root ${worth(relaxed)}, best ${worth(whole)}, ${seconds.toFixed(2)} s`,
    );
  }
}
