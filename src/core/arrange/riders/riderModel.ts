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

/** Passes of one session at one spot, ascending, and what they say together. */
interface Sighting {
  readonly passes: readonly number[];
  readonly sum: Float64Array;
  readonly evidence: number;
  /** What they add to the rider's own precision and weighted mean. */
  readonly precision: Float64Array;
  readonly weighted: Float64Array;
}

/** Passes of one session, ascending. */
interface Visit {
  readonly passes: readonly number[];
  readonly gaps: Float64Array | null;
}

export interface Cluster {
  /** Ascending. */
  readonly passes: readonly number[];
  readonly precision: Float64Array;
  readonly weighted: Float64Array;
  /** By place, as numbered by the model. */
  readonly sightings: ReadonlyMap<number, Sighting>;
  /** By session; passes of no session count as one, −1. */
  readonly visits: ReadonlyMap<number, Visit>;
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
  readonly #sum: Float64Array;
  readonly #terms: Terms[] = [];
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
    this.#sum = new Float64Array(model.directions);
    const groups = Math.max(1, field.groups.length);
    this.#sessionsOf = Array.from({ length: field.halves * groups }, (_, cell) =>
      Array.from({ length: field.sessionCount }, (__, s) => s).filter(
        (s) => field.halfOf[s] === Math.floor(cell / groups) && field.groupOf[s] === cell % groups,
      ),
    );
  }

  cluster(passes: readonly number[]): Cluster {
    const ascending = [...passes].sort((a, b) => a - b);
    const places = groupBy(ascending, (p) => this.#known.placeOf[p]!);
    const sessions = groupBy(ascending, (p) => this.#field.passes[p]!.session);
    return this.#clusterOf(
      ascending,
      new Map([...places].map(([place, list]) => [place, this.#sighting(list)])),
      new Map([...sessions].map(([session, list]) => [session, this.#visit(list)])),
    );
  }

  join(a: Cluster, b: Cluster): Cluster {
    const sightings = new Map(a.sightings);
    for (const [place, sighting] of b.sightings) {
      const own = a.sightings.get(place);
      sightings.set(place, own === undefined ? sighting : this.#sighting(together(own.passes, sighting.passes)));
    }
    const visits = new Map(a.visits);
    for (const [session, visit] of b.visits) {
      const own = a.visits.get(session);
      visits.set(session, own === undefined ? visit : this.#visit(together(own.passes, visit.passes)));
    }
    return this.#clusterOf(together(a.passes, b.passes), sightings, visits);
  }

  /** The cluster less some of its passes, at least one of which stays. */
  without(cluster: Cluster, part: readonly number[]): Cluster {
    const gone = new Set(part);
    const stays = (list: readonly number[]) => list.filter((p) => !gone.has(p));
    const sightings = new Map(cluster.sightings);
    for (const place of new Set(part.map((p) => this.#known.placeOf[p]!))) {
      const left = stays(sightings.get(place)!.passes);
      if (left.length === 0) sightings.delete(place);
      else sightings.set(place, this.#sighting(left));
    }
    const visits = new Map(cluster.visits);
    for (const session of new Set(part.map((p) => this.#field.passes[p]!.session))) {
      const left = stays(visits.get(session)!.passes);
      if (left.length === 0) visits.delete(session);
      else visits.set(session, this.#visit(left));
    }
    return this.#clusterOf(stays(cluster.passes), sightings, visits);
  }

  #clusterOf(
    passes: readonly number[],
    sightings: ReadonlyMap<number, Sighting>,
    visits: ReadonlyMap<number, Visit>,
  ): Cluster {
    const q = this.#model.directions;
    const precision = new Float64Array(q);
    const weighted = new Float64Array(q);
    for (const one of sightings.values())
      for (let k = 0; k < q; k++) {
        precision[k] = precision[k]! + one.precision[k]!;
        weighted[k] = weighted[k]! + one.weighted[k]!;
      }
    const counts = new Uint16Array(this.#field.sessionCount);
    const groups = new Float64Array(this.#field.halves * Math.max(1, this.#field.groups.length));
    let gaps: Float64Array | null = null;
    for (const [session, visit] of visits) {
      gaps = addGaps(gaps, visit.gaps);
      if (session < 0) continue;
      counts[session] = visit.passes.length;
      const cell = this.#cellOf(session);
      if (cell >= 0) groups[cell] = groups[cell]! + visit.passes.length;
    }
    return {
      passes,
      precision,
      weighted,
      sightings,
      visits,
      identity: this.#identityEvidence(precision, weighted),
      counts,
      sessions: [...visits.keys()].filter((session) => session >= 0),
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

  #cellOf(session: number): number {
    const group = this.#field.groupOf[session]!;
    return group < 0 ? -1 : this.#field.halfOf[session]! * Math.max(1, this.#field.groups.length) + group;
  }

  #sighting(list: readonly number[]): Sighting {
    return remembered(this.#known.sightings, list, () => {
      const q = this.#model.directions;
      const sum = new Float64Array(q);
      for (const p of list) for (let k = 0; k < q; k++) sum[k] = sum[k]! + this.#model.rows[p * q + k]!;
      const precision = new Float64Array(q);
      const weighted = new Float64Array(q);
      const evidence = this.#addSighting(precision, weighted, list.length, sum);
      return { passes: list, sum, evidence, precision, weighted };
    });
  }

  #visit(list: readonly number[]): Visit {
    const rhythm = this.#rhythm;
    if (rhythm === null || list.length < 2) return { passes: list, gaps: null };
    return remembered(this.#known.visits, list, () => ({
      passes: list,
      gaps: rhythm.gaps(list.map((p) => this.#field.passes[p]!)),
    }));
  }

  /**
   * Adds what n passes of one sighting say of the rider. Returns their evidence about the session's own term, with the
   * rider's still unknown.
   */
  #addSighting(precision: Float64Array, weighted: Float64Array, n: number, sum: Float64Array): number {
    const { share, evidence: each, constant } = this.#termsOf(n);
    let evidence = constant;
    for (let k = 0; k < share.length; k++) {
      const s = sum[k]!;
      precision[k] = precision[k]! + n * share[k]!;
      weighted[k] = weighted[k]! + s * share[k]!;
      evidence += each[k]! * s * s;
    }
    return evidence;
  }

  /** What depends on the number of passes alone. */
  #termsOf(n: number): Terms {
    const known = this.#terms[n];
    if (known !== undefined) return known;
    const { passVariance: w, sessionVariance: u, directions } = this.#model;
    const share = new Float64Array(directions);
    const evidence = new Float64Array(directions);
    let constant = 0;
    for (let k = 0; k < directions; k++) {
      const t = 1 + (n * u[k]!) / w[k]!;
      share[k] = 1 / (w[k]! + n * u[k]!);
      evidence[k] = (0.5 * u[k]!) / (w[k]! * w[k]! * t);
      constant -= 0.5 * Math.log(t);
    }
    const terms = { share, evidence, constant };
    this.#terms[n] = terms;
    return terms;
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
    let ofSessions = 0;
    const [few, many] = a.sightings.size < b.sightings.size ? [a, b] : [b, a];
    for (const [place, one] of few.sightings) {
      const other = many.sightings.get(place);
      if (other === undefined) continue;
      for (let k = 0; k < precision.length; k++) {
        precision[k] = precision[k]! - one.precision[k]! - other.precision[k]!;
        weighted[k] = weighted[k]! - one.weighted[k]! - other.weighted[k]!;
        this.#sum[k] = one.sum[k]! + other.sum[k]!;
      }
      const joined = this.#addSighting(precision, weighted, one.passes.length + other.passes.length, this.#sum);
      ofSessions += joined - one.evidence - other.evidence;
    }
    return ofSessions + this.#identityEvidence(precision, weighted) - a.identity - b.identity;
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

  #rhythmOdds(a: Cluster, b: Cluster, shares: boolean, rhythm: Rhythm): number {
    if (!shares && (a.gaps === null || b.gaps === null)) return 0;
    const most = shares ? RIDER_PRICES.mostFromRhythm : RIDER_PRICES.mostFromLapLength;
    const joint = shares ? rhythm.evidence(this.#jointGaps(a, b)) : rhythm.jointEvidence(a.gaps!, b.gaps!);
    return Math.max(-most, Math.min(most, joint - a.rhythm - b.rhythm));
  }

  #jointGaps(a: Cluster, b: Cluster): Float64Array | null {
    let gaps: Float64Array | null = null;
    for (const [session, visit] of a.visits) {
      const other = b.visits.get(session);
      gaps = addGaps(gaps, other === undefined ? visit.gaps : this.#visit(together(visit.passes, other.passes)).gaps);
    }
    for (const [session, visit] of b.visits) if (!a.visits.has(session)) gaps = addGaps(gaps, visit.gaps);
    return gaps;
  }

  #areApart(a: Cluster, b: Cluster): boolean {
    const [few, many] = a.visits.size < b.visits.size ? [a, b] : [b, a];
    for (const [session, { passes }] of few.visits) {
      const others = many.visits.get(session);
      if (others?.passes.some((p) => passes.some((q) => this.#field.cannotBeOne(p, q))) === true) return true;
    }
    return false;
  }
}

interface Terms {
  readonly share: Float64Array;
  readonly evidence: Float64Array;
  readonly constant: number;
}

/** What follows from a list of passes alone. Clusters grow a session at a time, so most of it is asked again. */
interface Known {
  /** Per pass the number of its place. */
  readonly placeOf: Int32Array;
  readonly sightings: Map<number | string, Sighting>;
  readonly visits: Map<number | string, Visit>;
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
    visits: new Map(),
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

function groupBy(list: readonly number[], keyOf: (p: number) => number): ReadonlyMap<number, readonly number[]> {
  const groups = new Map<number, number[]>();
  for (const p of list) {
    const own = groups.get(keyOf(p));
    if (own === undefined) groups.set(keyOf(p), [p]);
    else own.push(p);
  }
  return groups;
}

const together = (a: readonly number[], b: readonly number[]): readonly number[] =>
  [...a, ...b].sort((one, other) => one - other);
