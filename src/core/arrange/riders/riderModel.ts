/**
 * How much speaks for two clusters being one rider, in nats: looks (three Gaussian levels), the lap, the group, and
 * being there.
 */
import type { Attendance } from './attendance.js';
import { addTo, type Cluster, Clusters, less, together } from './clusters.js';
import type { Field } from './field.js';
import type { LookModel } from './learnModel.js';
import { addNumbers, type NumberEvidence, numberEvidence, type PassNumbers } from './numbers.js';
import type { Rhythm } from './rhythm.js';

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
  /** The same where a day taught nothing of its looks: any one of forty riders of a group may be it. */
  thin: 2,
  /** Two numbers on one bike: an old race's, or the reader's mistake in pass after pass. */
  mostFromNumber: 8,
  /** Looks that speak so much against: one number does not make two bikes one then. */
  looksContradict: -7,
  mostFromRhythm: 8,
  mostFromLapLength: 3,
} as const;

export class RiderModel {
  readonly #clusters: Clusters;
  /** Attendance is not known yet: whoever was seen with two groups waits. */
  readonly #isPlainOnly: boolean;
  readonly #prior: number;
  /** Scratch: of the two that are compared. */
  readonly #precision: Float64Array;
  readonly #weighted: Float64Array;
  readonly #sum: Float64Array;

  /** @param before a model of the same field and looks: what it worked out of passes serves this one, too. */
  constructor(
    field: Field,
    model: LookModel,
    numbers: PassNumbers,
    attendance: Attendance | null,
    before: RiderModel | null = null,
  ) {
    this.#clusters = new Clusters(field, model, numbers, attendance, before === null ? null : before.#clusters);
    this.#isPlainOnly = attendance === null;
    this.#prior = RIDER_PRICES.prior + RIDER_PRICES.thin * model.thinness + field.careNats;
    this.#precision = new Float64Array(model.directions);
    this.#weighted = new Float64Array(model.directions);
    this.#sum = new Float64Array(model.directions);
  }

  cluster(passes: readonly number[]): Cluster {
    return this.#clusters.cluster(passes);
  }

  join(a: Cluster, b: Cluster): Cluster {
    return this.#clusters.join(a, b);
  }

  /** The cluster less some of its passes, at least one of which stays. */
  without(cluster: Cluster, part: readonly number[]): Cluster {
    return this.#clusters.without(cluster, part);
  }

  /** Log-odds that the two are one rider; −Infinity where they cannot be. Stops early once below `floor`. */
  logOdds(a: Cluster, b: Cluster, floor: number): number {
    // Most pairs of a large day end here.
    if (this.#isPlainOnly && a.group !== b.group && a.group >= 0 && b.group >= 0) return Number.NEGATIVE_INFINITY;
    const shares = sharesSession(a, b);
    if (shares && this.#areApart(a, b)) return Number.NEGATIVE_INFINITY;
    const presence = this.#clusters.presence.evidence(a, b) - a.presence - b.presence;
    if (presence === Number.NEGATIVE_INFINITY) return presence;
    const looks = scaled(this.looksOdds(a, b));
    const odds = presence - this.#prior + looks + this.#jointNumberOdds(a, b, looks);
    const most = shares ? RIDER_PRICES.mostFromRhythm : RIDER_PRICES.mostFromLapLength;
    if (this.#clusters.rhythm === null || odds < floor - most) return odds;
    return odds + Math.max(-most, Math.min(most, this.#rhythmOdds(a, b, shares, this.#clusters.rhythm)));
  }

  /** The log-odds of passes of one place with the rest of their cluster, as {@link logOdds} has them, without making either. */
  tie(cluster: Cluster, part: readonly number[]): number {
    const session = this.#clusters.field.passes[part[0]!]!.session;
    const looks = scaled(this.#looksTie(cluster, part));
    const presence = session < 0 ? 0 : this.#clusters.presence.tie(cluster, session, part.length);
    return presence - this.#prior + looks + this.#numberTie(cluster, part, looks) + this.#rhythmTie(cluster, part);
  }

  #looksTie(cluster: Cluster, part: readonly number[]): number {
    const all = cluster.sightings.get(this.#clusters.placeOf(part[0]!))!;
    const own = this.#clusters.sighting(part);
    const rest = part.length === all.passes.length ? null : this.#clusters.sighting(less(all.passes, part));
    for (let k = 0; k < this.#precision.length; k++) {
      this.#precision[k] = cluster.precision[k]! - all.precision[k]! + (rest?.precision[k] ?? 0);
      this.#weighted[k] = cluster.weighted[k]! - all.weighted[k]! + (rest?.weighted[k] ?? 0);
    }
    const ofRest = this.#clusters.identityEvidence(this.#precision, this.#weighted);
    const ofOwn = this.#clusters.identityEvidence(own.precision, own.weighted);
    const ofSession = rest === null ? 0 : all.evidence - rest.evidence - own.evidence;
    return ofSession + cluster.identity - ofRest - ofOwn;
  }

  #numberTie(cluster: Cluster, part: readonly number[], looks: number): number {
    const numbers = this.#clusters.numbersOf(part);
    if (numbers === null || cluster.numbers === null) return 0;
    const rest = this.#clusters.numbersOf(less(cluster.passes, part));
    return rest === null ? 0 : this.#numberOdds(cluster.numbered, rest, numbers, looks);
  }

  #rhythmTie(cluster: Cluster, part: readonly number[]): number {
    const session = this.#clusters.field.passes[part[0]!]!.session;
    const all = cluster.visits.get(session)!;
    const gaps = cluster.gaps.get(this.#clusters.groupOf(session));
    if (this.#clusters.rhythm === null || gaps === undefined || all.gaps === null) return 0;
    const isWhole = part.length === all.passes.length;
    const left = isWhole ? null : this.#clusters.visit(less(all.passes, part)).gaps;
    const own = this.#clusters.visit(part).gaps;
    const rest = gaps.map((value, k) => value - all.gaps![k]! + (left === null ? 0 : left[k]!));
    const odds =
      this.#clusters.rhythm.evidence(gaps) - this.#clusters.rhythm.evidence(rest) - this.#clusters.rhythm.evidence(own);
    const most = isWhole ? RIDER_PRICES.mostFromLapLength : RIDER_PRICES.mostFromRhythm;
    return Math.max(-most, Math.min(most, odds));
  }

  /** One number does not make two bikes one where looks contradict: that is asked. */
  #numberOdds(joint: number, a: NumberEvidence, b: NumberEvidence, looks: number): number {
    const { logNumbers } = this.#clusters.numbers;
    const apart = numberEvidence(a, logNumbers) + numberEvidence(b, logNumbers);
    const odds = Math.max(-RIDER_PRICES.mostFromNumber, joint - apart);
    return odds > 0 && looks < RIDER_PRICES.looksContradict ? 0 : odds;
  }

  #jointNumberOdds(a: Cluster, b: Cluster, looks: number): number {
    if (a.numbers === null || b.numbers === null) return 0;
    const joint = numberEvidence(addNumbers(a.numbers, b.numbers), this.#clusters.numbers.logNumbers);
    return this.#numberOdds(joint, a.numbers, b.numbers, looks);
  }

  /** What the model of looks says for the two being one, in its own nats. */
  looksOdds(a: Cluster, b: Cluster): number {
    return sharesPlace(a, b) ? this.#looksOddsTogether(a, b) : this.#looksOddsApart(a, b);
  }

  /** Of two that were never seen in one session at one spot; nearly all pairs are such. */
  #looksOddsApart(a: Cluster, b: Cluster): number {
    const variance = this.#clusters.model.riderVariance;
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
      const joined = this.#clusters.addSighting(
        precision,
        weighted,
        one.passes.length + other.passes.length,
        this.#sum,
      );
      ofSessions += joined - one.evidence - other.evidence;
    }
    return ofSessions + this.#clusters.identityEvidence(precision, weighted) - a.identity - b.identity;
  }

  #rhythmOdds(a: Cluster, b: Cluster, shares: boolean, rhythm: Rhythm): number {
    if (shares) return this.#clusters.rhythmOf(this.#jointGaps(a, b)) - a.rhythm - b.rhythm;
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
      const own = other === undefined ? visit : this.#clusters.visit(together(visit.passes, other.passes));
      addTo(gaps, this.#clusters.groupOf(session), own.gaps);
    }
    for (const [session, visit] of b.visits)
      if (!a.visits.has(session)) addTo(gaps, this.#clusters.groupOf(session), visit.gaps);
    return gaps;
  }

  #areApart(a: Cluster, b: Cluster): boolean {
    const [few, many] = a.visits.size < b.visits.size ? [a, b] : [b, a];
    for (const [session, { passes }] of few.visits) {
      const others = many.visits.get(session);
      if (others?.passes.some((p) => passes.some((q) => this.#clusters.field.cannotBeOne(p, q))) === true) return true;
    }
    return false;
  }
}

/** Looks as they count: scaled down, and less and less of what speaks against. */
function scaled(raw: number): number {
  const nats = RIDER_PRICES.looksScale * raw;
  const most = RIDER_PRICES.mostPlainlyAgainst;
  return nats >= 0 ? nats : -most * Math.log(1 - nats / most);
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
