/**
 * Fits the curve of `src/core/arrange/riders/likelyPairs.ts` by logistic regression (Newton's method, a ridge of 0.001) on
 * days for tuning, simulated and rendered, and prints beside it how right the curve in force is on them.
 * Run: npx tsx tools/accuracy/fitLikelyPairs.ts 211 (seeds of rendered days, none of them reported)
 */
import { hardDay, type Setting, syntheticDay } from '../../demo/simulated-day/index.js';
import { arrangeAgain } from '../../src/core/arrange/index.js';
import { likelyPairs, pairClues } from '../../src/core/arrange/riders/likelyPairs.js';
import type { ArrangeInput } from '../../src/core/arrange/types.js';
import { largeDay } from './demoLarge.js';
import { type Eye, eyeOf } from './person.js';
import { SEEDS } from './seeds.js';

const SETTINGS: readonly Setting[] = ['s74', 's50', 'fleet'];
const SIMULATED = SEEDS.tuning.slice(0, 7);

interface Row {
  readonly kind: string;
  /** 1, odds, lead, size. */
  readonly clues: readonly number[];
  readonly chance: number;
  readonly isOne: boolean;
}

function rowsOf(kind: string, input: ArrangeInput, eye: Eye): readonly Row[] {
  const { memory, arrangement } = arrangeAgain(input, null);
  const { clustering, field } = memory.found;
  const owners = clustering.clusters.map(({ passes }) => ownerOf(passes, arrangement, eye));
  const chances = likelyPairs(clustering, field);
  return pairClues(clustering, field).map(({ a, b, odds, lead, size }, i) => ({
    kind,
    clues: [1, odds, lead, size],
    chance: chances[i]!.chance,
    isOne: owners[a] !== null && owners[a] === owners[b],
  }));
}

/** Whose most of the bikes are; null where most are no rider's. */
function ownerOf(
  passes: readonly number[],
  arrangement: ReturnType<typeof arrangeAgain>['arrangement'],
  { riderOf }: Eye,
): string | null {
  const counts = new Map<string | null, number>();
  for (const p of passes)
    for (const bike of arrangement.passes[p]!.bikes) {
      const rider = riderOf(bike) ?? null;
      counts.set(rider, (counts.get(rider) ?? 0) + 1);
    }
  return [...counts].reduce((top, one) => (one[1] > top[1] ? one : top))[0];
}

function regress(rows: readonly Row[]): readonly number[] {
  const n = rows[0]!.clues.length;
  let weights = new Array<number>(n).fill(0);
  for (let round = 0; round < 40; round++) {
    const gradient = weights.map((weight) => -1e-3 * weight);
    const hessian = weights.map((_, i) => weights.map((__, j) => (i === j ? 1e-3 : 0)));
    for (const { clues, isOne } of rows) {
      const chance = 1 / (1 + Math.exp(-clues.reduce((sum, clue, i) => sum + clue * weights[i]!, 0)));
      for (let i = 0; i < n; i++) {
        gradient[i]! += clues[i]! * ((isOne ? 1 : 0) - chance);
        for (let j = 0; j < n; j++) hessian[i]![j]! += clues[i]! * clues[j]! * chance * (1 - chance);
      }
    }
    const step = solve(hessian, gradient);
    weights = weights.map((weight, i) => weight + step[i]!);
  }
  return weights;
}

/** Gaussian elimination; the matrix is symmetric and positive. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  for (const [i, pivot] of rows.entries())
    for (const [k, row] of rows.entries()) {
      if (k === i) continue;
      const share = row[i]! / pivot[i]!;
      for (let j = i; j < row.length; j++) row[j]! -= share * pivot[j]!;
    }
  return rows.map((row, i) => row.at(-1)! / row[i]!);
}

function* tableOf(rows: readonly Row[]): Iterable<string> {
  for (const kind of [...new Set(rows.map((row) => row.kind))])
    for (const [from, to] of [
      [0, 0.1],
      [0.1, 0.3],
      [0.3, 0.5],
      [0.5, 0.7],
      [0.7, 0.9],
      [0.9, 1],
    ] as const) {
      const own = rows.filter((row) => row.kind === kind && row.chance >= from && row.chance < to);
      if (own.length === 0) continue;
      const mean = own.reduce((sum, { chance }) => sum + chance, 0) / own.length;
      const right = own.filter(({ isOne }) => isOne).length;
      yield `${kind}: said ${mean.toFixed(2)}, one rider in ${right} of ${own.length}`;
    }
}

const rows: Row[] = [];
for (const setting of SETTINGS)
  for (const seed of SIMULATED) {
    const day = syntheticDay(hardDay(setting, seed));
    rows.push(...rowsOf(setting, day.input, eyeOf(day)));
  }
for (const seed of process.argv.slice(2).map(Number)) {
  const { input, eye } = await largeDay(seed);
  rows.push(...rowsOf('rendered', input, eye));
}
for (const line of tableOf(rows)) console.log(line);
console.log(
  `intercept, odds, lead, size: ${regress(rows)
    .map((weight) => weight.toFixed(3))
    .join(', ')}`,
);
for (const kind of [...new Set(rows.map((row) => row.kind))])
  console.log(
    `  of ${kind} alone: ${regress(rows.filter((row) => row.kind === kind))
      .map((weight) => weight.toFixed(3))
      .join(', ')}`,
  );
