/**
 * Fits the curve of `src/core/arrange/riders/likelyPairs.ts` by the likelihood of what is true, on days for tuning, simulated and
 * rendered, and prints beside it how right the curve in force is on them.
 * Run: npx tsx tools/accuracy/fitLikelyPairs.ts 211 (seeds of rendered days, none of them reported)
 */
import { hardDay, type Setting, syntheticDay } from '../../demo/simulated-day/index.js';
import { arrangeAgain } from '../../src/core/arrange/index.js';
import { likelyPairs, pieceClues } from '../../src/core/arrange/riders/likelyPairs.js';
import type { ArrangeInput } from '../../src/core/arrange/types.js';
import { largeDay } from './demoLarge.js';
import { type Eye, eyeOf } from './person.js';
import { SEEDS } from './seeds.js';

const SETTINGS: readonly Setting[] = ['s74', 's50', 'fleet'];
const SIMULATED = SEEDS.tuning.slice(0, 7);

/** One that may be a piece of another. */
interface Row {
  readonly kind: string;
  readonly size: number;
  readonly others: readonly { readonly odds: number; readonly chance: number; readonly isOne: boolean }[];
}

function rowsOf(kind: string, input: ArrangeInput, eye: Eye): readonly Row[] {
  const { memory, arrangement } = arrangeAgain(input, null);
  const { clustering, field } = memory.found;
  const owners = clustering.clusters.map(({ passes }) => ownerOf(passes, arrangement, eye));
  const chances = new Map(
    likelyPairs(clustering, field).map(({ small, large, chance }) => [`${small} ${large}`, chance]),
  );
  return pieceClues(clustering, field).map(({ small, size, others }) => ({
    kind,
    size,
    others: others.map(({ large, odds }) => ({
      odds,
      chance: chances.get(`${small} ${large}`) ?? 0,
      isOne: owners[small] !== null && owners[small] === owners[large],
    })),
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

/** Piece, size, best, odds, nobody: as in the curve. */
type Weights = readonly number[];

/** Minus the logarithm of what the curve says of what is so, and a little for weights far from nothing. */
function misfit(rows: readonly Row[], weights: Weights): number {
  const [piece, perSize, perBest, perOdds, nobody] = weights as [number, number, number, number, number];
  let sum = 0;
  for (const { size, others } of rows) {
    const best = Math.max(...others.map(({ odds }) => odds));
    const isPiece = 1 / (1 + Math.exp(-(piece + perSize * size + perBest * best)));
    const shareOf = ({ odds }: Row['others'][number]): number => Math.exp(perOdds * (odds - best));
    const all = others.reduce((total, one) => total + shareOf(one), Math.exp(nobody));
    const right = others.filter(({ isOne }) => isOne);
    const said = right.length > 0 ? right : others;
    const chance = (isPiece * said.reduce((total, one) => total + shareOf(one), 0)) / all;
    sum -= Math.log(Math.max(1e-12, right.length > 0 ? chance : 1 - chance));
  }
  return sum + 0.01 * weights.reduce((total, weight) => total + weight ** 2, 0);
}

/** Direct search (R. Hooke, T. Jeeves, J. ACM 8 (1961) 212–229), without its pattern moves: five weights need no more. */
function fitted(rows: readonly Row[]): Weights {
  let weights: Weights = [0, -1, 0.3, 0.4, 0];
  let least = misfit(rows, weights);
  for (let step = 0.5; step > 0.002; ) {
    const tries = weights.flatMap((_, i) => [-step, step].map((by) => weights.map((w, j) => (i === j ? w + by : w))));
    const [best] = tries.map((own) => ({ own, value: misfit(rows, own) })).sort((a, b) => a.value - b.value);
    if (best!.value < least - 1e-6) {
      least = best!.value;
      weights = best!.own;
    } else step /= 2;
  }
  return weights;
}

function* tableOf(rows: readonly Row[]): Iterable<string> {
  for (const kind of [...new Set(rows.map((row) => row.kind))])
    for (const [from, to] of [
      [0, 0.03],
      [0.03, 0.1],
      [0.1, 0.3],
      [0.3, 0.5],
      [0.5, 0.7],
      [0.7, 0.9],
      [0.9, 1],
    ] as const) {
      const pairs = rows.filter((row) => row.kind === kind).flatMap(({ others }) => others);
      const own = pairs.filter(({ chance }) => chance >= from && chance < to);
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
const words = (weights: Weights): string => weights.map((weight) => weight.toFixed(3)).join(', ');
console.log(`piece, size, best, odds, nobody: ${words(fitted(rows))}`);
for (const kind of [...new Set(rows.map((row) => row.kind))])
  console.log(`  of ${kind} alone: ${words(fitted(rows.filter((row) => row.kind === kind)))}`);
