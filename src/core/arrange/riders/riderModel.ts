/**
 * How much speaks for two clusters being one rider, in nats: looks (three Gaussian levels), the lap, the group, and
 * being there. A cluster keeps what these need, so that a merge costs what it changes.
 */
import type { Attendance } from './attendance.js';
import type { Field } from './field.js';
import type { LookModel } from './learnModel.js';
import { placeOf } from './looks.js';
import { addNumbers, type NumberEvidence, numberEvidence, type PassNumbers } from './numbers.js';
import { Presence, type Seen } from './presence.js';
import { addGaps, Rhythm } from './rhythm.js';

/**
 * Prices in nats, tuned on simulated days (seeds 1–9 of three settings; reported on others).
 */
export const RIDER_PRICES = {
  /** Of what the model of looks says: passes are not as independent as it has them. */
  looksScale: 0.4,
  /**
   * What looks say against grows with the logarithm beyond this: some sightings are far worse than others, and whoever
   * changed the leathers is another to the eye.
   */
  mostPlainlyAgainst: 5,
  /** Prior: any two clusters are rather two riders. */
  prior: 1,
  /** Two numbers on one bike: an old race's, or the reader's mistake in pass after pass. */
  mostFromNumber: 8,
  /** Looks that speak so much against: one number does not make two bikes one then. */
  looksContradict: -7,
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

export interface Cluster extends Seen {
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
  /** Sessions with any. */
  readonly sessions: readonly number[];
  readonly presence: number;
  /** Lap by lap, by group: instructors ride at the pace of each. */
  readonly gaps: ReadonlyMap<number, Float64Array>;
  readonly rhythm: number;
  /** What was read, and how much one number explains it. */
  readonly numbers: NumberEvidence;
  readonly numbered: number;
}

export class RiderModel {
  readonly #field: Field;
  readonly #model: LookModel;
  readonly #rhythm: Rhythm | null;
  readonly #presence: Presence;
  /** Attendance is not known yet: whoever was seen with two groups waits. */
  readonly #isPlainOnly: boolean;
  readonly #numbers: PassNumbers;
  readonly #precision: Float64Array;
  readonly #weighted: Float64Array;
  readonly #sum: Float64Array;
  readonly #terms: Terms[] = [];
  readonly #known: Known;

  /** @param before a model of the same field and looks: what it worked out of passes serves this one, too. */
  constructor(
    field: Field,
    model: LookModel,
    numbers: PassNumbers,
    attendance: Attendance | null,
    before: RiderModel | null = null,
  ) {
    this.#field = field;
    this.#model = model;
    this.#numbers = numbers;
    this.#presence = new Presence(field, attendance);
    this.#isPlainOnly = attendance === null;
    this.#rhythm = field.fastestLapMs === null ? null : new Rhythm(field.fastestLapMs);
    this.#known = before === null ? nothingKnown(field) : before.#known;
    this.#precision = new Float64Array(model.directions);
    this.#weighted = new Float64Array(model.directions);
    this.#sum = new Float64Array(model.directions);
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
    const stays = (list: readonly number[]) => less(list, part);
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
    const gaps = new Map<number, Float64Array>();
    for (const [session, visit] of visits) {
      addTo(gaps, this.#groupOf(session), visit.gaps);
      if (session >= 0) counts[session] = visit.passes.length;
    }
    const seen = this.#presence.seen(counts);
    const numbers = this.#numbersOf(passes);
    return {
      ...seen,
      numbers,
      numbered: numberEvidence(numbers, this.#numbers.logNumbers),
      passes,
      precision,
      weighted,
      sightings,
      visits,
      identity: this.#identityEvidence(precision, weighted),
      sessions: [...visits.keys()].filter((session) => session >= 0),
      presence: this.#presence.evidence(seen, null),
      gaps,
      rhythm: this.#evidenceOf(gaps),
    };
  }

  /** Log-odds that the two are one rider; −Infinity where they cannot be. Stops early once below `floor`. */
  logOdds(a: Cluster, b: Cluster, floor: number): number {
    // Most pairs of a large day end here.
    if (this.#isPlainOnly && a.group !== b.group && a.group >= 0 && b.group >= 0) return Number.NEGATIVE_INFINITY;
    const presence = this.#presence.evidence(a, b) - a.presence - b.presence;
    if (presence === Number.NEGATIVE_INFINITY) return presence;
    const shares = sharesSession(a, b);
    if (shares && this.#areApart(a, b)) return Number.NEGATIVE_INFINITY;
    const looks = scaled(this.looksOdds(a, b));
    const odds = presence - RIDER_PRICES.prior + looks + this.#jointNumberOdds(a, b, looks);
    const most = shares ? RIDER_PRICES.mostFromRhythm : RIDER_PRICES.mostFromLapLength;
    if (this.#rhythm === null || odds < floor - most) return odds;
    return odds + Math.max(-most, Math.min(most, this.#rhythmOdds(a, b, shares, this.#rhythm)));
  }

  /** The log-odds of passes of one place with the rest of their cluster, as {@link logOdds} has them, without making either. */
  tie(cluster: Cluster, part: readonly number[]): number {
    const session = this.#field.passes[part[0]!]!.session;
    const looks = scaled(this.#looksTie(cluster, part));
    const presence = session < 0 ? 0 : this.#presence.tie(cluster, session, part.length);
    return (
      presence - RIDER_PRICES.prior + looks + this.#numberTie(cluster, part, looks) + this.#rhythmTie(cluster, part)
    );
  }

  #looksTie(cluster: Cluster, part: readonly number[]): number {
    const all = cluster.sightings.get(this.#known.placeOf[part[0]!]!)!;
    const own = this.#sighting(part);
    const rest = part.length === all.passes.length ? null : this.#sighting(less(all.passes, part));
    for (let k = 0; k < this.#precision.length; k++) {
      this.#precision[k] = cluster.precision[k]! - all.precision[k]! + (rest?.precision[k] ?? 0);
      this.#weighted[k] = cluster.weighted[k]! - all.weighted[k]! + (rest?.weighted[k] ?? 0);
    }
    const ofRest = this.#identityEvidence(this.#precision, this.#weighted);
    const ofOwn = this.#identityEvidence(own.precision, own.weighted);
    const ofSession = rest === null ? 0 : all.evidence - rest.evidence - own.evidence;
    return ofSession + cluster.identity - ofRest - ofOwn;
  }

  #numberTie(cluster: Cluster, part: readonly number[], looks: number): number {
    const numbers = this.#numbersOf(part);
    if (numbers === null || cluster.numbers === null) return 0;
    const rest = this.#numbersOf(less(cluster.passes, part));
    return rest === null ? 0 : this.#numberOdds(cluster.numbered, rest, numbers, looks);
  }

  #rhythmTie(cluster: Cluster, part: readonly number[]): number {
    const session = this.#field.passes[part[0]!]!.session;
    const all = cluster.visits.get(session)!;
    const gaps = cluster.gaps.get(this.#groupOf(session));
    if (this.#rhythm === null || gaps === undefined || all.gaps === null) return 0;
    const isWhole = part.length === all.passes.length;
    const left = isWhole ? null : this.#visit(less(all.passes, part)).gaps;
    const own = this.#visit(part).gaps;
    const rest = gaps.map((value, k) => value - all.gaps![k]! + (left === null ? 0 : left[k]!));
    const odds = this.#rhythm.evidence(gaps) - this.#rhythm.evidence(rest) - this.#rhythm.evidence(own);
    const most = isWhole ? RIDER_PRICES.mostFromLapLength : RIDER_PRICES.mostFromRhythm;
    return Math.max(-most, Math.min(most, odds));
  }

  /** One number does not make two bikes one where looks contradict: that is asked. */
  #numberOdds(joint: number, a: NumberEvidence, b: NumberEvidence, looks: number): number {
    const { logNumbers } = this.#numbers;
    const apart = numberEvidence(a, logNumbers) + numberEvidence(b, logNumbers);
    const odds = Math.max(-RIDER_PRICES.mostFromNumber, joint - apart);
    return odds > 0 && looks < RIDER_PRICES.looksContradict ? 0 : odds;
  }

  #jointNumberOdds(a: Cluster, b: Cluster, looks: number): number {
    if (a.numbers === null || b.numbers === null) return 0;
    const joint = numberEvidence(addNumbers(a.numbers, b.numbers), this.#numbers.logNumbers);
    return this.#numberOdds(joint, a.numbers, b.numbers, looks);
  }

  #numbersOf(passes: readonly number[]): NumberEvidence {
    let numbers: NumberEvidence = null;
    for (const p of passes) numbers = addNumbers(numbers, this.#numbers.ofPass[p]!);
    return numbers;
  }

  #groupOf(session: number): number {
    return session < 0 ? -1 : this.#field.groupOf[session]!;
  }

  #evidenceOf(gaps: ReadonlyMap<number, Float64Array>): number {
    let sum = 0;
    if (this.#rhythm !== null) for (const own of gaps.values()) sum += this.#rhythm.evidence(own);
    return sum;
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

  /** What the model of looks says for the two being one, in its own nats. */
  looksOdds(a: Cluster, b: Cluster): number {
    return sharesPlace(a, b) ? this.#looksOddsTogether(a, b) : this.#looksOddsApart(a, b);
  }

  /** Of two that were never seen in one session at one spot; nearly all pairs are such. */
  #looksOddsApart(a: Cluster, b: Cluster): number {
    const variance = this.#model.riderVariance;
    const { precision: pa, weighted: wa } = a;
    const { precision: pb, weighted: wb } = b;
    let evidence = 0;
    let product = 1;
    for (let k = 0; k < variance.length; k++) {
      const v = variance[k]!;
      const w = wa[k]! + wb[k]!;
      const t = 1 + v * (pa[k]! + pb[k]!);
      product *= t;
      evidence += (v * w * w) / t;
      if (product > 1e200) {
        evidence -= Math.log(product);
        product = 1;
      }
    }
    return 0.5 * (evidence - Math.log(product)) - a.identity - b.identity;
  }

  #looksOddsTogether(a: Cluster, b: Cluster): number {
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

  #rhythmOdds(a: Cluster, b: Cluster, shares: boolean, rhythm: Rhythm): number {
    if (shares) return this.#evidenceOf(this.#jointGaps(a, b)) - a.rhythm - b.rhythm;
    let odds = 0;
    for (const [group, own] of a.gaps) {
      const other = b.gaps.get(group);
      if (other !== undefined) odds += rhythm.jointEvidence(own, other) - rhythm.evidence(own) - rhythm.evidence(other);
    }
    return odds;
  }

  #jointGaps(a: Cluster, b: Cluster): ReadonlyMap<number, Float64Array> {
    const gaps = new Map<number, Float64Array>();
    for (const [session, visit] of a.visits) {
      const other = b.visits.get(session);
      const own = other === undefined ? visit : this.#visit(together(visit.passes, other.passes));
      addTo(gaps, this.#groupOf(session), own.gaps);
    }
    for (const [session, visit] of b.visits)
      if (!a.visits.has(session)) addTo(gaps, this.#groupOf(session), visit.gaps);
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

/** Looks as they count: scaled down, and less and less of what speaks against. */
function scaled(raw: number): number {
  const nats = RIDER_PRICES.looksScale * raw;
  const most = RIDER_PRICES.mostPlainlyAgainst;
  return nats >= 0 ? nats : -most * Math.log(1 - nats / most);
}

function addTo(gaps: Map<number, Float64Array>, group: number, more: Float64Array | null): void {
  const sum = addGaps(gaps.get(group) ?? null, more);
  if (sum !== null) gaps.set(group, sum);
}

function sharesPlace(a: Cluster, b: Cluster): boolean {
  const [few, many] = a.sightings.size < b.sightings.size ? [a, b] : [b, a];
  for (const place of few.sightings.keys()) if (many.sightings.has(place)) return true;
  return false;
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

function less(list: readonly number[], part: readonly number[]): readonly number[] {
  const gone = new Set(part);
  return list.filter((p) => !gone.has(p));
}

const together = (a: readonly number[], b: readonly number[]): readonly number[] =>
  [...a, ...b].sort((one, other) => one - other);
