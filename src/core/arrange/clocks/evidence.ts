/**
 * What two bodies' pictures say about the offset between their clocks, as log-likelihood ratios in nats against "these
 * bodies were not at the same day". Widths and shares are common practice, no source.
 */

/** What the search knows of one body; times are recorded ones in milliseconds, ascending. */
export interface BodyTrack {
  /** Middle of each pass. */
  readonly passes: Float64Array;
  /** `passes.length × dimensions`, unit rows, centred within the body. */
  readonly looks: Float32Array;
  readonly dimensions: number;
  readonly dividers: Float64Array;
}

const BIN_MS = 15_000;
/** One photographer's frames a few minutes apart say the same thing: 15 s bins count as a twentieth each. */
const BIN_WEIGHT = 1 / 20;
/** A body is in use as long as its next picture comes within this time. */
const REACH_BINS = 4;

/** When the track was in use, as the reference body and the timetable know it. */
export class Activity {
  /** Bins in which it was, as stretches with both ends in, ascending and apart. */
  readonly #busy: readonly (readonly [from: number, to: number])[];
  readonly #share: number;

  constructor(times: Float64Array, slots: readonly (readonly [from: number, to: number])[]) {
    const spans = [
      ...Array.from(times, (time) => [binOf(time) - REACH_BINS, binOf(time) + REACH_BINS] as const),
      ...slots.map(([from, to]) => [binOf(from), binOf(to)] as const),
    ];
    this.#busy = joined(spans);
    const first = this.#busy[0]?.[0] ?? 0;
    const length = Math.max(1, (this.#busy.at(-1)?.[1] ?? 0) - first + 1);
    const busy = this.#busy.reduce((sum, [from, to]) => sum + to - from + 1, 0);
    // Four hours more are idle too: a body whose pictures all fall outside fits worse, not better.
    this.#share = Math.min(0.6, Math.max(1, busy) / (length + 1000));
  }

  fit(other: BinTally, offsetMs: number): number {
    const shift = Math.round(offsetMs / BIN_MS);
    let inside = 0;
    for (const [from, to] of this.#busy) inside += other.countWithin(from - shift, to - shift);
    const outside = other.count - inside;
    return BIN_WEIGHT * (inside * Math.log(0.95 / this.#share) + outside * Math.log(0.05 / (1 - this.#share)));
  }
}

function joined(spans: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] {
  const out: [number, number][] = [];
  for (const [from, to] of [...spans].sort((a, b) => a[0] - b[0])) {
    const last = out.at(-1);
    if (last === undefined || from > last[1] + 1) out.push([from, to]);
    else last[1] = Math.max(last[1], to);
  }
  return out;
}

/** The steps of 15 s in which a body took pictures. */
export class BinTally {
  readonly count: number;
  readonly #first: number;
  /** How many lie before each bin. */
  readonly #before: Uint32Array;

  constructor(times: Float64Array) {
    const bins = [...new Set(Array.from(times, binOf))].sort((a, b) => a - b);
    this.count = bins.length;
    this.#first = bins[0] ?? 0;
    this.#before = new Uint32Array((bins.at(-1) ?? 0) - this.#first + 2);
    for (const bin of bins) this.#before[bin - this.#first + 1] = 1;
    for (let i = 1; i < this.#before.length; i++) this.#before[i] = this.#before[i]! + this.#before[i - 1]!;
  }

  /** Both ends in. */
  countWithin(from: number, to: number): number {
    return Math.max(0, this.#countBefore(to + 1) - this.#countBefore(from));
  }

  #countBefore(bin: number): number {
    const at = Math.min(this.#before.length - 1, Math.max(0, bin - this.#first));
    return this.#before[at]!;
  }
}

const binOf = (time: number): number => Math.floor(time / BIN_MS);

/** Both bodies take the same divider: on one call, within a few seconds, or now and then a quarter of a minute apart. */
export function dividerFit(reference: Float64Array, other: Float64Array, offsetMs: number, dayMs: number): number {
  if (reference.length === 0) return 0;
  const background = reference.length / dayMs;
  let fit = 0;
  for (const time of other) {
    const distance = distanceToNearest(reference, time + offsetMs);
    const density = 0.25 * normal(distance, 400) + 0.2 * normal(distance, 2500) + 0.15 * normal(distance, 12_000);
    fit += Math.log(0.4 + density / background);
  }
  return fit;
}

export function distanceToNearest(sorted: Float64Array, time: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < time) low = middle + 1;
    else high = middle;
  }
  const after = low < sorted.length ? sorted[low]! - time : Number.POSITIVE_INFINITY;
  const before = low > 0 ? time - sorted[low - 1]! : Number.POSITIVE_INFINITY;
  return Math.min(after, before);
}

/** Density per millisecond of a normal distribution around 0. */
export function normal(x: number, spread: number): number {
  // Further out it is nothing, to the last bit: exp(−800) is 0.
  if (Math.abs(x) > 40 * spread) return 0;
  return Math.exp(-0.5 * (x / spread) ** 2) / (spread * 2.5066282746310002);
}

/** Two passes that look alike, one of each body. */
export interface LikePair {
  /** Reference minus other, recorded. */
  readonly apartMs: number;
  /** Chance that they are one rider, from how alike they look. */
  readonly isSame: number;
  /** This rider's lap as the reference body saw it; null when it did not. */
  readonly lapMs: number | null;
}

/** How far apart two passes may lie to tell something: laps wander, about 2 % each. */
export const PAIR_WINDOW_MS = 9 * 60_000;
const LAP_SPREAD = 0.017;

/** Alike passes are one moment seen twice, or whole laps apart, and never less than a lap. */
export function pairFit(pairs: readonly LikePair[], offsetMs: number, leastLapMs: number): number {
  const uniform = 1 / (2 * PAIR_WINDOW_MS);
  let fit = 0;
  for (const { apartMs, isSame, lapMs } of pairs) {
    const gap = Math.abs(apartMs - offsetMs);
    if (gap > PAIR_WINDOW_MS) continue;
    const density = 0.35 * normal(gap, 600) * 0.5 + 0.65 * lapDensity(gap, lapMs, leastLapMs);
    fit += Math.log(1 - isSame + (isSame * density) / uniform);
  }
  return fit;
}

/** Density per millisecond over both signs of the gap. */
function lapDensity(gap: number, lapMs: number | null, leastLapMs: number): number {
  if (lapMs === null) return gap < leastLapMs ? 0 : 1 / (2 * (PAIR_WINDOW_MS - leastLapMs));
  const laps = Math.round(gap / lapMs);
  if (laps === 0) return 0;
  const most = Math.max(1, Math.floor(PAIR_WINDOW_MS / lapMs));
  return normal(gap - laps * lapMs, LAP_SPREAD * lapMs * Math.sqrt(laps)) / (2 * most);
}
