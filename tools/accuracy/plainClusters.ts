/** Passes clustered by their looks alone, in the two ways that first come to mind, for comparison. */
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { SyntheticDay } from '../../demo/simulated-day/index.js';
import { arrange } from '../../src/core/arrange/index.js';
import type { Pass } from '../../src/core/arrange/types.js';
import { averageLinkage } from '../../src/core/numeric/cluster.js';
import { eyeOf } from './person.js';
import { type PlacedBike, type RidersScore, scoreRiders } from './ridersScore.js';

export type PlainClusters =
  | { readonly kind: 'scored'; readonly name: string; readonly best: string; readonly score: RidersScore['riders'] }
  | { readonly kind: 'skipped'; readonly reason: string };

const THRESHOLDS = [0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6];

export function byAverageLinkage(day: SyntheticDay): PlainClusters {
  const looks = looksOf(day);
  const count = looks.rows.length;
  const similarity = similarities(looks.rows);
  const tried = THRESHOLDS.map((threshold) => {
    const labels = averageLinkage(count, similarity.slice(), new Uint8Array(count ** 2), threshold);
    return { setting: `threshold ${threshold}`, score: scoreOf(looks, [...labels].map(String)) };
  });
  return bestOf('average linkage', tried);
}

/** Cosines, row by row. */
function similarities(rows: readonly Float32Array[]): Float32Array {
  const out = new Float32Array(rows.length ** 2);
  rows.forEach((a, i) => {
    for (let j = 0; j <= i; j++) {
      const value = dot(a, rows[j]!);
      out[i * rows.length + j] = value;
      out[j * rows.length + i] = value;
    }
  });
  return out;
}

const SCRIPT = join(dirname(fileURLToPath(import.meta.url)), 'hdbscan.py');

/** Python may be missing, or lack the library: that is said, never passed over. */
export function byHdbscan(day: SyntheticDay): PlainClusters {
  const looks = looksOf(day);
  const asked = JSON.stringify({ rows: looks.rows.map((row) => [...row]), sizes: [2, 3, 5, 8, 12] });
  const answer = spawnSync('python3', [SCRIPT], { input: asked, encoding: 'utf8', maxBuffer: 1 << 28 });
  if (answer.status !== 0) {
    const said = (answer.stderr ?? '').trim().split('\n').at(-1) ?? '';
    return {
      kind: 'skipped',
      reason: `HDBSCAN needs python3 with scikit-learn 1.3 or newer (${answer.error?.message ?? said}).`,
    };
  }
  const found = JSON.parse(answer.stdout) as readonly { readonly size: number; readonly labels: readonly number[] }[];
  const tried = found.map(({ size, labels }) => ({
    setting: `clusters of ${size} at least`,
    score: scoreOf(
      looks,
      labels.map((label, i) => (label < 0 ? `alone ${i}` : String(label))),
    ),
  }));
  return bestOf('HDBSCAN', tried);
}

type Tried = { readonly setting: string; readonly score: RidersScore['riders'] };

function bestOf(name: string, tried: readonly Tried[]): PlainClusters {
  const best = tried.reduce((top, one) => (one.score.f1 > top.score.f1 ? one : top));
  return { kind: 'scored', name, best: best.setting, score: best.score };
}

interface Looks {
  /** Per pass, of unit length. */
  readonly rows: readonly Float32Array[];
  readonly passes: readonly Pass[];
  readonly day: SyntheticDay;
}

const known = new WeakMap<SyntheticDay, Looks>();

/** The passes that the program finds, each the mean of its descriptors less the mean of its session: light goes out. */
function looksOf(day: SyntheticDay): Looks {
  const before = known.get(day);
  if (before !== undefined) return before;
  const { passes } = arrange(day.input);
  const raw = passes.map(({ bikes }) =>
    meanOf(bikes.flatMap(({ frameId, subject }) => descriptorAt(day, frameId, subject))),
  );
  const sessions = new Map<number, Float32Array[]>();
  passes.forEach(({ session }, p) => {
    const list = sessions.get(session);
    if (list === undefined) sessions.set(session, [raw[p]!]);
    else list.push(raw[p]!);
  });
  const middle = new Map([...sessions].map(([session, rows]) => [session, meanOf(rows)]));
  const rows = passes.map(({ session }, p) => unit(raw[p]!.map((x, k) => x - middle.get(session)![k]!)));
  const looks = { rows, passes, day };
  known.set(day, looks);
  return looks;
}

function descriptorAt(
  { input }: SyntheticDay,
  frameId: Pass['bikes'][number]['frameId'],
  subject: number,
): Float32Array[] {
  const frame = input.pixels.get(frameId);
  const text = frame?.kind === 'measured' ? frame.subjects[subject]?.descriptor : undefined;
  return text === undefined ? [] : [unit(Float32Array.from(new Int8Array(Buffer.from(text, 'base64'))))];
}

function scoreOf({ passes, day }: Looks, labels: readonly string[]): RidersScore['riders'] {
  const { riderOf } = eyeOf(day);
  const bikes = passes.flatMap((pass, p) =>
    pass.bikes.flatMap((bike): PlacedBike[] => {
      const trueRider = riderOf(bike);
      return typeof trueRider === 'string' ? [{ trueRider, rider: labels[p]!, isPlaced: true, confidence: null }] : [];
    }),
  );
  return scoreRiders(bikes).riders;
}

function meanOf(rows: readonly Float32Array[]): Float32Array {
  const sum = new Float32Array(rows[0]!.length);
  for (const row of rows) for (let k = 0; k < sum.length; k++) sum[k]! += row[k]! / rows.length;
  return sum;
}

const unit = (row: Float32Array): Float32Array => {
  const length = Math.sqrt(dot(row, row)) || 1;
  return row.map((x) => x / length);
};

function dot(a: Float32Array, b: Float32Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
