/** Bikes that words make one rider, as far as no word parts them. */
import type { BikeNumber } from './statements.js';

/** Groups that grow only where no `different` stands between them. */
export class Groups {
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

  /** Whether all others make them one. */
  isOne(a: BikeNumber, b: BikeNumber): boolean {
    return this.touch(a) === this.touch(b);
  }

  /** Who was said to be two, of one group and the other. */
  between(a: BikeNumber, b: BikeNumber): readonly (readonly [BikeNumber, BikeNumber])[] {
    const other = this.touch(b);
    return [...this.touch(a)].flatMap((bike) =>
      (this.#enemies.get(bike) ?? []).filter((enemy) => other.has(enemy)).map((enemy) => [bike, enemy] as const),
    );
  }

  join(a: BikeNumber, b: BikeNumber): boolean {
    const first = this.touch(a);
    const second = this.touch(b);
    if (first === second) return true;
    if (this.between(a, b).length > 0) return false;
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
