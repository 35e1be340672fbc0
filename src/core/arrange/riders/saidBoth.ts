/**
 * Pairs of bikes of which contrary words were said. They wait to be asked until one more word is said of them, or until
 * all other words bear the later one out: whoever answers says it of every pair that stands against it.
 */
import type { BikeNumber, Contradiction, Pair } from './statements.js';
import { Groups } from './wordGroups.js';

const keyOf = ({ a, b }: Pick<Pair, 'a' | 'b'>): string => `${a} ${b}`;

export class SaidBoth {
  readonly #open = new Map<string, Contradiction>();
  readonly #turned = new Set<string>();

  /** They were called one rider, but are in one picture. */
  inOneFrame(a: BikeNumber, b: BikeNumber): void {
    this.#open.set(keyOf({ a, b }), { a, b, kind: 'one-frame' });
  }

  /** A word about a pair, and the one that stood before. */
  hear(pair: Pair, before: Pair | undefined): void {
    const key = keyOf(pair);
    const isTurned = before !== undefined && before.isSame !== pair.isSame;
    if (isTurned) this.#turned.add(key);
    if (this.#open.delete(key) || !isTurned) return;
    this.#open.set(key, { a: pair.a, b: pair.b, kind: 'said-both' });
  }

  /** What still waits, with the last word about each pair. */
  waiting(standing: readonly Pair[]): readonly Contradiction[] {
    if (this.#open.size === 0) return [];
    const others = standing.filter((pair) => !this.#turned.has(keyOf(pair)));
    const groups = new Groups(others.filter(({ isSame }) => !isSame).map(({ a, b }) => [a, b] as const));
    for (const { a, b, isSame } of others) if (isSame) groups.join(a, b);
    const isBorneOut = ({ a, b, isSame }: Pair): boolean =>
      isSame ? groups.isOne(a, b) : groups.between(a, b).length > 0;
    const answered = new Set(standing.filter(isBorneOut).map(keyOf));
    return [...this.#open.values()].filter(({ a, b, kind }) => kind !== 'said-both' || !answered.has(keyOf({ a, b })));
  }
}
