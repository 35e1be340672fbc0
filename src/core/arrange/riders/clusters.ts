/**
 * Clusters of passes, and what each keeps of its looks, laps, numbers and sessions, so that a merge costs what it
 * changes. How much speaks for two being one rider says `riderModel.ts`.
 */
import type { Attendance } from './attendance.js';
import type { Field } from './field.js';
import type { LookModel } from './learnModel.js';
import { placeOf } from './looks.js';
import { addNumbers, type NumberEvidence, numberEvidence, type PassNumbers } from './numbers.js';
import { Presence, type Seen } from './presence.js';
import { addGaps, Rhythm } from './rhythm.js';

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

export class Clusters {
  readonly field: Field;
  readonly model: LookModel;
  readonly rhythm: Rhythm | null;
  readonly presence: Presence;
  readonly numbers: PassNumbers;
  readonly #terms: Terms[] = [];
  readonly #known: Known;

  /** @param before of the same field and looks: what was worked out of passes serves these, too. */
  constructor(
    field: Field,
    model: LookModel,
    numbers: PassNumbers,
    attendance: Attendance | null,
    before: Clusters | null,
  ) {
    this.field = field;
    this.model = model;
    this.numbers = numbers;
    this.presence = new Presence(field, attendance);
    this.rhythm = field.fastestLapMs === null ? null : new Rhythm(field.fastestLapMs);
    this.#known = before === null ? nothingKnown(field) : before.#known;
  }

  cluster(passes: readonly number[]): Cluster {
    const ascending = [...passes].sort((a, b) => a - b);
    const places = groupBy(ascending, (p) => this.placeOf(p));
    const sessions = groupBy(ascending, (p) => this.field.passes[p]!.session);
    return this.#clusterOf(
      ascending,
      new Map([...places].map(([place, list]) => [place, this.sighting(list)])),
      new Map([...sessions].map(([session, list]) => [session, this.visit(list)])),
    );
  }

  join(a: Cluster, b: Cluster): Cluster {
    const sightings = new Map(a.sightings);
    for (const [place, sighting] of b.sightings) {
      const own = a.sightings.get(place);
      sightings.set(place, own === undefined ? sighting : this.sighting(together(own.passes, sighting.passes)));
    }
    const visits = new Map(a.visits);
    for (const [session, visit] of b.visits) {
      const own = a.visits.get(session);
      visits.set(session, own === undefined ? visit : this.visit(together(own.passes, visit.passes)));
    }
    return this.#clusterOf(together(a.passes, b.passes), sightings, visits);
  }

  /** The cluster less some of its passes, at least one of which stays. */
  without(cluster: Cluster, part: readonly number[]): Cluster {
    const stays = (list: readonly number[]) => less(list, part);
    const sightings = new Map(cluster.sightings);
    for (const place of new Set(part.map((p) => this.placeOf(p)))) {
      const left = stays(sightings.get(place)!.passes);
      if (left.length === 0) sightings.delete(place);
      else sightings.set(place, this.sighting(left));
    }
    const visits = new Map(cluster.visits);
    for (const session of new Set(part.map((p) => this.field.passes[p]!.session))) {
      const left = stays(visits.get(session)!.passes);
      if (left.length === 0) visits.delete(session);
      else visits.set(session, this.visit(left));
    }
    return this.#clusterOf(stays(cluster.passes), sightings, visits);
  }

  #clusterOf(
    passes: readonly number[],
    sightings: ReadonlyMap<number, Sighting>,
    visits: ReadonlyMap<number, Visit>,
  ): Cluster {
    const q = this.model.directions;
    const precision = new Float64Array(q);
    const weighted = new Float64Array(q);
    for (const one of sightings.values())
      for (let k = 0; k < q; k++) {
        precision[k] = precision[k]! + one.precision[k]!;
        weighted[k] = weighted[k]! + one.weighted[k]!;
      }
    const counts = new Uint16Array(this.field.sessionCount);
    const gaps = new Map<number, Float64Array>();
    for (const [session, visit] of visits) {
      addTo(gaps, this.groupOf(session), visit.gaps);
      if (session >= 0) counts[session] = visit.passes.length;
    }
    const seen = this.presence.seen(counts);
    const numbers = this.numbersOf(passes);
    return {
      ...seen,
      numbers,
      numbered: numberEvidence(numbers, this.numbers.logNumbers),
      passes,
      precision,
      weighted,
      sightings,
      visits,
      identity: this.identityEvidence(precision, weighted),
      sessions: [...visits.keys()].filter((session) => session >= 0),
      presence: this.presence.evidence(seen, null),
      gaps,
      rhythm: this.rhythmOf(gaps),
    };
  }

  numbersOf(passes: readonly number[]): NumberEvidence {
    let numbers: NumberEvidence = null;
    for (const p of passes) numbers = addNumbers(numbers, this.numbers.ofPass[p]!);
    return numbers;
  }

  groupOf(session: number): number {
    return session < 0 ? -1 : this.field.groupOf[session]!;
  }

  rhythmOf(gaps: ReadonlyMap<number, Float64Array>): number {
    let sum = 0;
    if (this.rhythm !== null) for (const own of gaps.values()) sum += this.rhythm.evidence(own);
    return sum;
  }

  sighting(list: readonly number[]): Sighting {
    return remembered(this.#known.sightings, list, () => {
      const q = this.model.directions;
      const sum = new Float64Array(q);
      for (const p of list) for (let k = 0; k < q; k++) sum[k] = sum[k]! + this.model.rows[p * q + k]!;
      const precision = new Float64Array(q);
      const weighted = new Float64Array(q);
      const evidence = this.addSighting(precision, weighted, list.length, sum);
      return { passes: list, sum, evidence, precision, weighted };
    });
  }

  visit(list: readonly number[]): Visit {
    const rhythm = this.rhythm;
    if (rhythm === null || list.length < 2) return { passes: list, gaps: null };
    return remembered(this.#known.visits, list, () => ({
      passes: list,
      gaps: rhythm.gaps(list.map((p) => this.field.passes[p]!)),
    }));
  }

  /**
   * Adds what n passes of one sighting say of the rider. Returns their evidence about the session's own term, with the
   * rider's still unknown.
   */
  addSighting(precision: Float64Array, weighted: Float64Array, n: number, sum: Float64Array): number {
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
    const { passVariance: w, sessionVariance: u, directions } = this.model;
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

  identityEvidence(precision: Float64Array, weighted: Float64Array): number {
    const { riderVariance: b, directions } = this.model;
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

  /** The place a pass was seen at, by number. */
  placeOf(pass: number): number {
    return this.#known.placeOf[pass]!;
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

export function addTo(gaps: Map<number, Float64Array>, group: number, more: Float64Array | null): void {
  const sum = addGaps(gaps.get(group) ?? null, more);
  if (sum !== null) gaps.set(group, sum);
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

export function less(list: readonly number[], part: readonly number[]): readonly number[] {
  const gone = new Set(part);
  return list.filter((p) => !gone.has(p));
}

export const together = (a: readonly number[], b: readonly number[]): readonly number[] =>
  [...a, ...b].sort((one, other) => one - other);
