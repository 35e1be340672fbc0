/**
 * What people said about pairs of bikes, with contradictions settled: of direct statements about one pair the later
 * stands, and a `different` cuts a `same` that only follows from others. A `same` that laps plainly forbid waits until
 * it is said once more: two in a hundred answers slip. Every contradiction is kept, to be asked, until it is answered.
 */
import type { BikePoint } from '../../log/types.js';
import type { RiderDecision } from '../decisions.js';
import { SaidBoth } from './saidBoth.js';
import { Groups } from './wordGroups.js';

/** A bike's number in whatever list the caller keeps. */
export type BikeNumber = number;

export interface Contradiction {
  readonly a: BikeNumber;
  readonly b: BikeNumber;
  readonly kind: 'said-both' | 'follows-from-others' | 'one-frame' | 'laps';
  /** The words that part them, where they were called one rider and others say that they are two. */
  readonly partedBy?: readonly (readonly [BikeNumber, BikeNumber])[];
}

export interface Statements {
  /** Bikes that are one rider, each list ascending. */
  readonly together: readonly (readonly BikeNumber[])[];
  readonly different: readonly (readonly [BikeNumber, BikeNumber])[];
  readonly contradictions: readonly Contradiction[];
}

export interface Pair {
  readonly a: BikeNumber;
  readonly b: BikeNumber;
  readonly isSame: boolean;
  /** Which of the two was put to the other. */
  readonly guest: BikeNumber;
}

/** What the day itself says against two bikes being one rider. */
export interface Against {
  isOneFrame(a: BikeNumber, b: BikeNumber): boolean;
  /** The two riders they were found to be, where laps plainly forbid that those are one; else null. */
  forbiddenByLaps(a: BikeNumber, b: BikeNumber): string | null;
}

export function settleStatements(
  decisions: readonly RiderDecision[],
  bikeOf: (point: BikePoint) => BikeNumber | null,
  against: Against,
): Statements {
  const saidBoth = new SaidBoth();
  const latest = new Map<string, Pair>();
  const waiting = new Waiting(against);
  for (const { pair, gesture } of pairsOf(decisions, bikeOf)) {
    if (pair.isSame && against.isOneFrame(pair.a, pair.b)) {
      saidBoth.inOneFrame(pair.a, pair.b);
      continue;
    }
    if (waiting.waits(pair, gesture)) continue;
    const key = `${pair.a} ${pair.b}`;
    saidBoth.hear(pair, latest.get(key));
    latest.delete(key);
    latest.set(key, pair);
  }
  const standing = [...latest.values()];
  const contradictions = [...saidBoth.waiting(standing), ...waiting.contradictions()];
  const different = standing.filter(({ isSame }) => !isSame).map(({ a, b }) => [a, b] as const);
  const groups = new Groups(different);
  for (const { a, b } of standing.filter(({ isSame }) => isSame).reverse())
    if (!groups.join(a, b)) contradictions.push({ a, b, kind: 'follows-from-others', partedBy: groups.between(a, b) });
  for (const [a, b] of different) {
    groups.touch(a);
    groups.touch(b);
  }
  return { together: groups.lists(), different, contradictions };
}

/** Words that the laps forbid, until they are said once more or taken back. */
class Waiting {
  readonly #against: Against;
  readonly #words = new Map<string, { readonly a: BikeNumber; readonly b: BikeNumber; readonly gesture: number }>();
  readonly #insisted = new Set<string>();
  /** In one gesture, who was not joined to the first is joined to none of the others either. */
  #guests = new Set<BikeNumber>();
  #gesture = -1;

  constructor(against: Against) {
    this.#against = against;
  }

  waits(pair: Pair, gesture: number | null): boolean {
    if (gesture === null) return false;
    if (gesture !== this.#gesture) this.#guests = new Set();
    this.#gesture = gesture;
    if (pair.isSame && (this.#guests.has(pair.a) || this.#guests.has(pair.b))) return true;
    const riders = this.#against.forbiddenByLaps(pair.a, pair.b);
    if (riders === null) return false;
    const before = this.#words.get(riders);
    if (!pair.isSame || (before !== undefined && before.gesture !== gesture)) {
      this.#words.delete(riders);
      if (pair.isSame) this.#insisted.add(riders);
      return false;
    }
    if (this.#insisted.has(riders)) return false;
    this.#words.set(riders, { a: pair.a, b: pair.b, gesture });
    this.#guests.add(pair.guest);
    return true;
  }

  contradictions(): readonly Contradiction[] {
    return [...this.#words.values()].map(({ a, b }) => ({ a, b, kind: 'laps' }));
  }
}

interface Said {
  readonly pair: Pair;
  /** Null for names: whoever names two bikes alike has looked at both. */
  readonly gesture: number | null;
}

function* pairsOf(
  decisions: readonly RiderDecision[],
  bikeOf: (point: BikePoint) => BikeNumber | null,
): Iterable<Said> {
  const names = new Map<BikeNumber, string>();
  for (const [gesture, decision] of decisions.entries()) {
    switch (decision.kind) {
      case 'same-rider':
      case 'different-riders':
        yield* everyPair(known(decision.points, bikeOf), decision.kind === 'same-rider', gesture);
        break;
      case 'line-up': {
        const of = bikeOf(decision.of);
        if (of === null) break;
        const shown = decision.shown.map(bikeOf);
        const chosen = decision.chosen.map((i) => shown[i] ?? null).filter((bike) => bike !== null);
        yield* everyPair([of, ...chosen], true, gesture);
        for (const [i, bike] of shown.entries())
          if (bike !== null && !decision.chosen.includes(i) && !decision.unsure.includes(i))
            yield* everyPair([of, bike], false, gesture);
        break;
      }
      case 'rider-is': {
        const bike = bikeOf(decision.point);
        const name = nameOf(decision);
        if (bike !== null && name !== null) names.set(bike, name);
        break;
      }
      case 'rider-minted':
      case 'instructor':
        break;
    }
  }
  const named = [...names];
  for (const [i, [a, name]] of named.entries())
    for (const [b, other] of named.slice(0, i)) yield* everyPair([a, b], name === other, null);
}

/** A number is no name: two classes have one each, and a finger slips. One number on two bikes is asked about. */
function nameOf(decision: Extract<RiderDecision, { kind: 'rider-is' }>): string | null {
  if (decision.rider !== undefined) return `rider ${decision.rider}`;
  return decision.person === undefined ? null : `person ${decision.person}`;
}

const known = (points: readonly BikePoint[], bikeOf: (point: BikePoint) => BikeNumber | null): BikeNumber[] =>
  points.map(bikeOf).filter((bike) => bike !== null);

function* everyPair(bikes: readonly BikeNumber[], isSame: boolean, gesture: number | null): Iterable<Said> {
  for (let i = 0; i < bikes.length; i++)
    for (let j = 0; j < i; j++) {
      const [guest, host] = [bikes[i]!, bikes[j]!];
      if (guest === host) continue;
      yield { pair: { a: Math.min(guest, host), b: Math.max(guest, host), isSame, guest }, gesture };
    }
}
