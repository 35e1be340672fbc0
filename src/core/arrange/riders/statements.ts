/**
 * What people said about pairs of bikes, with contradictions settled: of direct statements about one pair the later
 * stands, and a `different` cuts a `same` that only follows from others. Every contradiction is kept, to be asked.
 */
import type { BikePoint } from '../../log/types.js';
import type { RiderDecision } from '../decisions.js';

/** A bike's number in whatever list the caller keeps. */
export type BikeNumber = number;

export interface Contradiction {
  readonly a: BikeNumber;
  readonly b: BikeNumber;
  readonly kind: 'said-both' | 'follows-from-others' | 'one-frame';
}

export interface Statements {
  /** Bikes that are one rider, each list ascending. */
  readonly together: readonly (readonly BikeNumber[])[];
  readonly different: readonly (readonly [BikeNumber, BikeNumber])[];
  readonly contradictions: readonly Contradiction[];
}

interface Pair {
  readonly a: BikeNumber;
  readonly b: BikeNumber;
  readonly isSame: boolean;
}

export function settleStatements(
  decisions: readonly RiderDecision[],
  bikeOf: (point: BikePoint) => BikeNumber | null,
  isOneFrame: (a: BikeNumber, b: BikeNumber) => boolean,
): Statements {
  const contradictions: Contradiction[] = [];
  const latest = new Map<string, Pair>();
  for (const pair of pairsOf(decisions, bikeOf)) {
    if (pair.isSame && isOneFrame(pair.a, pair.b)) {
      contradictions.push({ a: pair.a, b: pair.b, kind: 'one-frame' });
      continue;
    }
    const key = `${pair.a} ${pair.b}`;
    const before = latest.get(key);
    if (before !== undefined && before.isSame !== pair.isSame)
      contradictions.push({ a: pair.a, b: pair.b, kind: 'said-both' });
    latest.delete(key);
    latest.set(key, pair);
  }
  const standing = [...latest.values()];
  const different = standing.filter(({ isSame }) => !isSame).map(({ a, b }) => [a, b] as const);
  const groups = new Groups(different);
  for (const { a, b } of standing.filter(({ isSame }) => isSame).reverse())
    if (!groups.join(a, b)) contradictions.push({ a, b, kind: 'follows-from-others' });
  for (const [a, b] of different) {
    groups.touch(a);
    groups.touch(b);
  }
  return { together: groups.lists(), different, contradictions };
}

function* pairsOf(
  decisions: readonly RiderDecision[],
  bikeOf: (point: BikePoint) => BikeNumber | null,
): Iterable<Pair> {
  const names = new Map<BikeNumber, string>();
  for (const decision of decisions) {
    switch (decision.kind) {
      case 'same-rider':
      case 'different-riders':
        yield* everyPair(known(decision.points, bikeOf), decision.kind === 'same-rider');
        break;
      case 'line-up': {
        const of = bikeOf(decision.of);
        if (of === null) break;
        const shown = decision.shown.map(bikeOf);
        const chosen = decision.chosen.map((i) => shown[i] ?? null).filter((bike) => bike !== null);
        yield* everyPair([of, ...chosen], true);
        for (const [i, bike] of shown.entries())
          if (bike !== null && !decision.chosen.includes(i) && !decision.unsure.includes(i))
            yield* everyPair([of, bike], false);
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
    for (const [b, other] of named.slice(0, i)) yield* everyPair([a, b], name === other);
}

function nameOf(decision: Extract<RiderDecision, { kind: 'rider-is' }>): string | null {
  if (decision.rider !== undefined) return `rider ${decision.rider}`;
  if (decision.person !== undefined) return `person ${decision.person}`;
  return decision.number === undefined ? null : `number ${decision.class ?? ''} ${decision.number}`;
}

const known = (points: readonly BikePoint[], bikeOf: (point: BikePoint) => BikeNumber | null): BikeNumber[] =>
  points.map(bikeOf).filter((bike) => bike !== null);

function* everyPair(bikes: readonly BikeNumber[], isSame: boolean): Iterable<Pair> {
  for (let i = 0; i < bikes.length; i++)
    for (let j = 0; j < i; j++)
      if (bikes[i] !== bikes[j]) yield { a: Math.min(bikes[i]!, bikes[j]!), b: Math.max(bikes[i]!, bikes[j]!), isSame };
}

/** Groups that grow only where no `different` stands between them. */
class Groups {
  readonly #groupOf = new Map<BikeNumber, Set<BikeNumber>>();
  readonly #enemies = new Map<BikeNumber, BikeNumber[]>();

  constructor(different: readonly (readonly [BikeNumber, BikeNumber])[]) {
    for (const [a, b] of different) {
      this.#enemies.set(a, [...(this.#enemies.get(a) ?? []), b]);
      this.#enemies.set(b, [...(this.#enemies.get(b) ?? []), a]);
    }
  }

  touch(bike: BikeNumber): Set<BikeNumber> {
    let group = this.#groupOf.get(bike);
    if (group === undefined) {
      group = new Set([bike]);
      this.#groupOf.set(bike, group);
    }
    return group;
  }

  join(a: BikeNumber, b: BikeNumber): boolean {
    const first = this.touch(a);
    const second = this.touch(b);
    if (first === second) return true;
    for (const bike of first) if (this.#enemies.get(bike)?.some((enemy) => second.has(enemy))) return false;
    for (const bike of second) {
      first.add(bike);
      this.#groupOf.set(bike, first);
    }
    return true;
  }

  lists(): readonly (readonly BikeNumber[])[] {
    return [...new Set(this.#groupOf.values())]
      .map((group) => [...group].sort((x, y) => x - y))
      .sort((x, y) => x[0]! - y[0]!);
  }
}
