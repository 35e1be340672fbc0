/**
 * How much speaks for two clusters being one rider, in nats: looks (three Gaussian levels), the lap, the group, and
 * being there. A cluster keeps what these need, so that a merge costs what it changes.
 */
import { type Attendance, countIndex } from './attendance.js';
import type { Field } from './field.js';
import type { LookModel } from './learnModel.js';
import { placeOf } from './looks.js';
import { addGaps, Rhythm } from './rhythm.js';

/**
 * Prices in nats, tuned on simulated days (seeds 1–3 at two strengths of descriptor; reported on others). Looks are scaled
 * down because passes are not as independent as the model has them.
 */
export const RIDER_PRICES = {
  looksScale: 0.1,
  /** Prior: any two clusters are rather two riders. */
  prior: 2,
  /** Two groups within one half-day. */
  otherGroup: 7,
  /** A change of group at lunch or overnight. */
  changedGroup: 3,
  mostFromRhythm: 8,
  mostFromLapLength: 3,
} as const;

interface Sighting {
  readonly count: number;
  readonly sum: Float64Array;
  readonly evidence: number;
}

export interface Cluster {
  readonly passes: readonly number[];
  readonly precision: Float64Array;
  readonly weighted: Float64Array;
  /** By place, as numbered by the model. */
  readonly sightings: ReadonlyMap<number, Sighting>;
  /** Evidence of the looks about who it is, the sessions' own terms apart. */
  readonly identity: number;
  /** Passes per session, and the sessions with any. */
  readonly counts: Uint16Array;
  readonly sessions: readonly number[];
  /** Passes per half-day and group, `halves × groups`. */
  readonly groups: Float64Array;
  readonly groupPrice: number;
  readonly attendance: number;
  readonly gaps: Float64Array | null;
  readonly rhythm: number;
}

export class RiderModel {
  readonly #field: Field;
  readonly #model: LookModel;
  readonly #rhythm: Rhythm | null;
  readonly #attendance: Attendance | null;
  readonly #sessionsOf: readonly (readonly number[])[];
  readonly #precision: Float64Array;
  readonly #weighted: Float64Array;
  readonly #known: Known;

  /** @param before a model of the same field and looks: what it worked out of passes serves this one, too. */
  constructor(field: Field, model: LookModel, attendance: Attendance | null, before: RiderModel | null = null) {
    this.#field = field;
    this.#model = model;
    this.#attendance = attendance;
    this.#rhythm = field.fastestLapMs === null ? null : new Rhythm(field.fastestLapMs);
    this.#known = before === null ? nothingKnown(field) : before.#known;
    this.#precision = new Float64Array(model.directions);
    this.#weighted = new Float64Array(model.directions);
    const groups = Math.max(1, field.groups.length);
    this.#sessionsOf = Array.from({ length: field.halves * groups }, (_, cell) =>
      Array.from({ length: field.sessionCount }, (__, s) => s).filter(
        (s) => field.halfOf[s] === Math.floor(cell / groups) && field.groupOf[s] === cell % groups,
      ),
    );
  }

  cluster(passes: readonly number[]): Cluster {
    const q = this.#model.directions;
    const precision = new Float64Array(q);
    const weighted = new Float64Array(q);
    const sightings = new Map<number, Sighting>();
    for (const [place, list] of this.byPlace(passes)) {
      const sighting = remembered(this.#known.sightings, list, () => this.#sightingOf(list));
      sightings.set(place, sighting);
      this.#add(precision, weighted, sighting.count, sighting.sum, 1);
    }
    const counts = new Uint16Array(this.#field.sessionCount);
    const groups = new Float64Array(this.#field.halves * Math.max(1, this.#field.groups.length));
    for (const p of passes) {
      const { session } = this.#field.passes[p]!;
      if (session < 0) continue;
      counts[session] = counts[session]! + 1;
      const cell = this.#cellOf(session);
      if (cell >= 0) groups[cell] = groups[cell]! + 1;
    }
    const gaps = this.#gapsOf(passes);
    return {
      passes,
      precision,
      weighted,
      sightings,
      identity: this.#identityEvidence(precision, weighted),
      counts,
      sessions: [...counts.keys()].filter((s) => counts[s]! > 0),
      groups,
      groupPrice: this.#groupPrice(groups, null),
      attendance: this.#attendanceOf(counts, null, groups),
      gaps,
      rhythm: this.#rhythm?.evidence(gaps) ?? 0,
    };
  }

  /** Log-odds that the two are one rider; −Infinity where they cannot be. Stops early once below `floor`. */
  logOdds(a: Cluster, b: Cluster, floor: number): number {
    const price = this.#groupPrice(a.groups, b.groups) - a.groupPrice - b.groupPrice;
    // Before attendance is known only plain cases are joined; whoever changed the group is left for later.
    if (this.#attendance === null && price > 0) return Number.NEGATIVE_INFINITY;
    const shares = sharesSession(a, b);
    if (shares && this.#areApart(a, b)) return Number.NEGATIVE_INFINITY;
    let odds = -RIDER_PRICES.prior - price + RIDER_PRICES.looksScale * this.#looksOdds(a, b);
    if (odds < floor - (this.#attendance === null ? RIDER_PRICES.mostFromRhythm : 16)) return odds;
    if (this.#attendance !== null) odds += this.#joinedAttendance(a, b) - a.attendance - b.attendance;
    const mostFromRhythm = shares ? RIDER_PRICES.mostFromRhythm : RIDER_PRICES.mostFromLapLength;
    if (odds < floor - mostFromRhythm) return odds;
    if (this.#rhythm !== null) odds += this.#rhythmOdds(a, b, shares, this.#rhythm);
    return odds;
  }

  byPlace(passes: readonly number[]): ReadonlyMap<number, readonly number[]> {
    const places = new Map<number, number[]>();
    for (const p of passes) {
      const key = this.#known.placeOf[p]!;
      const list = places.get(key);
      if (list === undefined) places.set(key, [p]);
      else list.push(p);
    }
    return places;
  }

  #cellOf(session: number): number {
    const group = this.#field.groupOf[session]!;
    return group < 0 ? -1 : this.#field.halfOf[session]! * Math.max(1, this.#field.groups.length) + group;
  }

  #sightingOf(list: readonly number[]): Sighting {
    const q = this.#model.directions;
    const sum = new Float64Array(q);
    for (const p of list) for (let k = 0; k < q; k++) sum[k] = sum[k]! + this.#model.rows[p * q + k]!;
    return { count: list.length, sum, evidence: this.#sightingEvidence(list.length, sum) };
  }

  /** Evidence of n passes about one session's term, with the rider's own term still unknown. */
  #sightingEvidence(n: number, sum: Float64Array): number {
    const { passVariance: w, sessionVariance: u, directions } = this.#model;
    let evidence = 0;
    let product = 1;
    for (let k = 0; k < directions; k++) {
      const t = 1 + (n * u[k]!) / w[k]!;
      product *= t;
      evidence += (0.5 * u[k]! * sum[k]! * sum[k]!) / (w[k]! * w[k]! * t);
    }
    return evidence - 0.5 * Math.log(product);
  }

  #add(precision: Float64Array, weighted: Float64Array, n: number, sum: Float64Array, sign: 1 | -1): void {
    const { passVariance: w, sessionVariance: u, directions } = this.#model;
    for (let k = 0; k < directions; k++) {
      const share = sign / (w[k]! + n * u[k]!);
      precision[k] = precision[k]! + n * share;
      weighted[k] = weighted[k]! + sum[k]! * share;
    }
  }

  #identityEvidence(precision: Float64Array, weighted: Float64Array): number {
    const { riderVariance: b, directions } = this.#model;
    let evidence = 0;
    let product = 1;
    for (let k = 0; k < directions; k++) {
      const t = 1 + b[k]! * precision[k]!;
      product *= t;
      evidence += (b[k]! * weighted[k]! * weighted[k]!) / t;
      if (product > 1e200) {
        evidence -= Math.log(product);
        product = 1;
      }
    }
    return 0.5 * (evidence - Math.log(product));
  }

  #looksOdds(a: Cluster, b: Cluster): number {
    const precision = this.#precision;
    const weighted = this.#weighted;
    for (let k = 0; k < precision.length; k++) {
      precision[k] = a.precision[k]! + b.precision[k]!;
      weighted[k] = a.weighted[k]! + b.weighted[k]!;
    }
    let together = 0;
    const [few, many] = a.sightings.size < b.sightings.size ? [a, b] : [b, a];
    for (const [place, one] of few.sightings) {
      const other = many.sightings.get(place);
      if (other === undefined) continue;
      const sum = one.sum.map((value, k) => value + other.sum[k]!);
      this.#add(precision, weighted, one.count, one.sum, -1);
      this.#add(precision, weighted, other.count, other.sum, -1);
      this.#add(precision, weighted, one.count + other.count, sum, 1);
      together += this.#sightingEvidence(one.count + other.count, sum) - one.evidence - other.evidence;
    }
    return together + this.#identityEvidence(precision, weighted) - a.identity - b.identity;
  }

  #groupPrice(groups: Float64Array, more: Float64Array | null): number {
    const count = Math.max(1, this.#field.groups.length);
    let price = 0;
    let topBefore = -1;
    for (let half = 0; half < this.#field.halves; half++) {
      let top = -1;
      let most = 0;
      let different = 0;
      for (let g = 0; g < count; g++) {
        const cell = half * count + g;
        const passes = groups[cell]! + (more === null ? 0 : more[cell]!);
        if (passes === 0) continue;
        different++;
        if (passes <= most) continue;
        top = g;
        most = passes;
      }
      if (different > 1) price += RIDER_PRICES.otherGroup * (different - 1);
      if (top !== -1 && topBefore !== -1 && top !== topBefore) price += RIDER_PRICES.changedGroup;
      if (top !== -1) topBefore = top;
    }
    return price;
  }

  #joinedAttendance(a: Cluster, b: Cluster): number {
    const groups = a.groups.map((count, cell) => count + b.groups[cell]!);
    return this.#attendanceOf(a.counts, b.counts, groups);
  }

  /** In each half-day the group seen most; where none was seen, the one before or after. */
  #attendanceOf(counts: Uint16Array, more: Uint16Array | null, groups: Float64Array): number {
    if (this.#attendance === null || this.#field.groups.length === 0) return 0;
    const count = this.#field.groups.length;
    const tops: number[] = [];
    for (let half = 0; half < this.#field.halves; half++) {
      let top = -1;
      for (let g = 0; g < count; g++) {
        const passes = groups[half * count + g]!;
        if (passes > 0 && (top === -1 || passes > groups[half * count + top]!)) top = g;
      }
      tops.push(top);
    }
    let sum = 0;
    for (let half = 0; half < tops.length; half++) {
      const group = tops[half]! >= 0 ? tops[half]! : (tops.find((top) => top >= 0) ?? -1);
      if (group < 0) continue;
      for (const s of this.#sessionsOf[half * count + group]!)
        sum += this.#attendance[s]![countIndex(counts[s]! + (more === null ? 0 : more[s]!))]!;
    }
    return sum;
  }

  #gapsOf(passes: readonly number[]): Float64Array | null {
    const rhythm = this.#rhythm;
    if (rhythm === null) return null;
    let gaps: Float64Array | null = null;
    for (const list of this.#bySession(passes).values()) {
      if (list.length < 2) continue;
      const own = remembered(this.#known.gaps, list, () => rhythm.gaps(list.map((p) => this.#field.passes[p]!)));
      gaps = addGaps(gaps, own);
    }
    return gaps;
  }

  #bySession(passes: readonly number[]): ReadonlyMap<number, readonly number[]> {
    const sessions = new Map<number, number[]>();
    for (const p of passes) {
      const { session } = this.#field.passes[p]!;
      const list = sessions.get(session);
      if (list === undefined) sessions.set(session, [p]);
      else list.push(p);
    }
    return sessions;
  }

  #rhythmOdds(a: Cluster, b: Cluster, shares: boolean, rhythm: Rhythm): number {
    if (!shares && (a.gaps === null || b.gaps === null)) return 0;
    const most = shares ? RIDER_PRICES.mostFromRhythm : RIDER_PRICES.mostFromLapLength;
    const joint = shares
      ? rhythm.evidence(this.#gapsOf([...a.passes, ...b.passes]))
      : rhythm.jointEvidence(a.gaps!, b.gaps!);
    return Math.max(-most, Math.min(most, joint - a.rhythm - b.rhythm));
  }

  #areApart(a: Cluster, b: Cluster): boolean {
    const { passes } = this.#field;
    return a.passes.some((p) =>
      b.passes.some((q) => passes[p]!.session === passes[q]!.session && this.#field.cannotBeOne(p, q)),
    );
  }
}

/** What follows from a list of passes alone. Clusters grow a session at a time, so most of it is asked again. */
interface Known {
  /** Per pass the number of its place. */
  readonly placeOf: Int32Array;
  readonly sightings: Map<number | string, Sighting>;
  readonly gaps: Map<number | string, Float64Array | null>;
}

function nothingKnown(field: Field): Known {
  const numbers = new Map<string, number>();
  const numberOf = (place: string): number => {
    const number = numbers.get(place) ?? numbers.size;
    numbers.set(place, number);
    return number;
  };
  return {
    placeOf: Int32Array.from(field.passes, (pass) => numberOf(placeOf(pass))),
    sightings: new Map(),
    gaps: new Map(),
  };
}

function remembered<Value>(known: Map<number | string, Value>, list: readonly number[], work: () => Value): Value {
  const key = list.length === 1 ? list[0]! : list.join(' ');
  const before = known.get(key);
  if (before !== undefined) return before;
  const value = work();
  known.set(key, value);
  return value;
}

function sharesSession(a: Cluster, b: Cluster): boolean {
  const [few, many] = a.sessions.length < b.sessions.length ? [a, b] : [b, a];
  for (const session of few.sessions) if (many.counts[session]! > 0) return true;
  return false;
}
