/**
 * Frames → bursts → passes. A burst is one body's frames without a pause; a pass is one bike going by once, so that
 * within a burst bikes are linked frame to frame, one to one, by how alike they look. Two bikes of one frame are never
 * one pass.
 */
import { assign } from '../numeric/assignment.js';
import type { Bikes } from './bikes.js';
import { dotRows } from './descriptors.js';

/** Common practice, no source: bursts run at 5–20 frames a second, and nobody re-aims within a second. */
export const BURST_GAP_MS = 1000;
/** One bike crosses a picture in about two seconds at most. */
const LONGEST_PASS_MS = 3500;

/** What passes need of an exposure. */
export interface TimedFrame {
  readonly wall: number | null;
  readonly session: number;
  readonly body: string;
  readonly spot: string | null;
}

export interface RawPass {
  /** Indices into {@link Bikes}, ascending. */
  readonly bikes: readonly number[];
  readonly session: number;
  readonly body: string;
  readonly spot: string | null;
  /** Passes of one session and one stand were taken from one place: the spot as said, or else whoever held the body. */
  readonly stand: string;
  readonly start: number;
  readonly end: number;
}

/** Number of each frame's burst, −1 for frames without a time. Frames are in order of corrected time. */
export function burstsOf(frames: readonly TimedFrame[]): Int32Array {
  const bursts = new Int32Array(frames.length).fill(-1);
  const open = new Map<string, { last: number; session: number; burst: number }>();
  let count = 0;
  frames.forEach(({ wall, body, session }, i) => {
    if (wall === null) return;
    const before = open.get(body);
    const goesOn = before !== undefined && before.session === session && wall - before.last <= BURST_GAP_MS;
    const burst = goesOn ? before.burst : count++;
    open.set(body, { last: wall, session, burst });
    bursts[i] = burst;
  });
  return bursts;
}

interface OpenPass {
  readonly bikes: number[];
  readonly sum: Float32Array;
  readonly start: number;
  end: number;
  readonly frame: TimedFrame;
}

export function passesOf(
  bikes: Bikes,
  frames: readonly TimedFrame[],
  bursts: Int32Array,
  leastLikeness: number,
): readonly RawPass[] {
  const open = new Map<number, OpenPass[]>();
  const all: OpenPass[] = [];
  for (let from = 0; from < bikes.count; ) {
    let to = from;
    while (to < bikes.count && bikes.exposure[to] === bikes.exposure[from]) to++;
    const e = bikes.exposure[from]!;
    const burst = bursts[e]!;
    if (burst >= 0) linkFrame(bikes, from, to, frames[e]!, passesOfBurst(open, burst), all, leastLikeness);
    from = to;
  }
  return all
    .map(({ bikes: list, start, end, frame }) => ({
      bikes: list,
      session: frame.session,
      body: frame.body,
      spot: frame.spot,
      stand: frame.spot ?? frame.body,
      start,
      end,
    }))
    .sort((a, b) => a.start - b.start || a.bikes[0]! - b.bikes[0]!);
}

function passesOfBurst(open: Map<number, OpenPass[]>, burst: number): OpenPass[] {
  let list = open.get(burst);
  if (list === undefined) {
    list = [];
    open.set(burst, list);
  }
  return list;
}

function linkFrame(
  bikes: Bikes,
  from: number,
  to: number,
  frame: TimedFrame,
  ofBurst: OpenPass[],
  all: OpenPass[],
  leastLikeness: number,
): void {
  const wall = frame.wall!;
  const candidates = ofBurst.filter((p) => wall - p.end <= BURST_GAP_MS && wall - p.start <= LONGEST_PASS_MS);
  const linked = linkOneToOne(bikes, from, to, candidates, leastLikeness);
  for (let i = from; i < to; i++) {
    let pass = linked[i - from];
    if (pass === undefined) {
      pass = { bikes: [], sum: new Float32Array(bikes.dimensions), start: wall, end: wall, frame };
      ofBurst.push(pass);
      all.push(pass);
    }
    pass.bikes.push(i);
    pass.end = wall;
    for (let k = 0; k < bikes.dimensions; k++)
      pass.sum[k] = pass.sum[k]! + bikes.descriptors[i * bikes.dimensions + k]!;
  }
}

function linkOneToOne(
  bikes: Bikes,
  from: number,
  to: number,
  candidates: readonly OpenPass[],
  leastLikeness: number,
): readonly (OpenPass | undefined)[] {
  const rows = to - from;
  const columns = candidates.length;
  const none: (OpenPass | undefined)[] = new Array(rows).fill(undefined);
  if (columns === 0) return none;
  const cost = new Float64Array(rows * (columns + rows));
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++)
      cost[r * (columns + rows) + c] = Math.min(0, leastLikeness - likenessTo(candidates[c]!, bikes, from + r));
  const chosen = assign(cost, rows, columns + rows);
  return none.map((_, r) => {
    const c = chosen[r]!;
    return c < columns && cost[r * (columns + rows) + c]! < 0 ? candidates[c] : undefined;
  });
}

function likenessTo(pass: OpenPass, bikes: Bikes, i: number): number {
  const from = i * bikes.dimensions;
  let energy = 0;
  let shared = 0;
  for (let k = 0; k < bikes.dimensions; k++) {
    const own = pass.sum[k]!;
    energy += own * own;
    shared += own * bikes.descriptors[from + k]!;
  }
  if (energy === 0) return bikes.dimensions === 0 ? 1 : 0;
  return shared / Math.sqrt(energy);
}

/**
 * Where two normal distributions cross: two bikes of one frame certainly differ, lone bikes of neighbouring frames are
 * nearly always one. So the day sets its own threshold.
 */
export function linkThreshold(bikes: Bikes, bursts: Int32Array): number {
  const different: number[] = [];
  const same: number[] = [];
  const isLone = (i: number): boolean =>
    bikes.exposure[i - 1] !== bikes.exposure[i] && bikes.exposure[i + 1] !== bikes.exposure[i];
  for (let i = 1; i < bikes.count; i++) {
    const likeness = dotRows(bikes.descriptors, i - 1, bikes.descriptors, i, bikes.dimensions);
    if (bikes.exposure[i - 1] === bikes.exposure[i]) different.push(likeness);
    else if (isLone(i - 1) && isLone(i) && bursts[bikes.exposure[i - 1]!] === bursts[bikes.exposure[i]!])
      same.push(likeness);
  }
  if (same.length < 10) return 0.3;
  const alike = meanAndSpread(same);
  const unlike = different.length >= 10 ? meanAndSpread(different) : { mean: 0, spread: 0.12 };
  return crossing(unlike, alike);
}

interface Normal {
  readonly mean: number;
  readonly spread: number;
}

function meanAndSpread(values: readonly number[]): Normal {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  const variance = values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length;
  return { mean, spread: Math.max(0.02, Math.sqrt(variance)) };
}

function crossing(low: Normal, high: Normal): number {
  const logDensity = ({ mean, spread }: Normal, x: number): number =>
    -0.5 * ((x - mean) / spread) ** 2 - Math.log(spread);
  for (let x = low.mean; x < high.mean; x += 0.005) if (logDensity(high, x) > logDensity(low, x)) return x;
  return (low.mean + high.mean) / 2;
}
