/**
 * What a set of one rider's frames is worth.
 *
 * A frame belongs to one class of each facet: its spot, session, view, side, shutter, and the whole set. In each class the best
 * frame counts whole, the second by the facet's `again`, the third by its square, and so on; besides, what a set shows for the
 * first time (the number, a spot, a side, a slow frame) counts once, however good the frame.
 *
 * A class is worth Σ_j a^j q_(j), the frames sorted by quality q; that is Σ_j (a^j − a^{j+1}) times the weight of the best j + 1 of
 * them, and "the most that j + 1 of them weigh" is a weighted rank of a uniform matroid: monotone and submodular (A. Schrijver,
 * Combinatorial Optimization, 2003, section 44.1a). Firsts are a coverage function, so is that. Sums with weights ≥ 0 stay so.
 * The weights are this project's choice. Rules CH4, CH21.
 */
import type { Offer } from './offers.js';

export const FACETS = {
  spot: { share: 0.25, again: 0.5 },
  view: { share: 0.2, again: 0.6 },
  session: { share: 0.15, again: 0.6 },
  side: { share: 0.1, again: 0.8 },
  shutter: { share: 0.1, again: 0.7 },
  set: { share: 0.2, again: 0.9 },
} as const;

export type Facet = keyof typeof FACETS;
export const FACET_NAMES = Object.keys(FACETS) as readonly Facet[];

/** A number and a spot come before any further frame; shares of all facets sum to 1. */
export const FIRSTS = { number: 1, spot: 1, side: 0.5, shutter: 0.5 } as const;
export type First = keyof typeof FIRSTS;

/** So many frames of one class have a weight of their own; further ones weigh what the last does, next to nothing. */
const DEEPEST = 400;
const WEIGHTS = FACET_NAMES.map((facet) => {
  const { share, again } = FACETS[facet];
  return Float64Array.from({ length: DEEPEST + 1 }, (_, place) => share * again ** place);
});

/** A set that grows, with what it shows already. */
export class GrowingSet {
  /** By class: the qualities of its frames, best first. */
  readonly #classes: number[][] = [];
  readonly #shown = new Set<string>();
  #worth = 0;

  static of(offers: Iterable<Offer>): GrowingSet {
    const set = new GrowingSet();
    for (const offer of offers) set.add(offer);
    return set;
  }

  get worth(): number {
    return this.#worth;
  }

  /** What the set would gain by it. */
  gainOf({ quality, classes, firsts }: Offer): number {
    let gain = 0;
    for (let facet = 0; facet < WEIGHTS.length; facet += 1)
      gain += gainInClass(this.#classes[classes[facet]!] ?? NONE, quality.worth, WEIGHTS[facet]!);
    for (const { key, counts } of firsts) if (!this.#shown.has(key)) gain += counts;
    return gain;
  }

  add(offer: Offer): void {
    this.#worth += this.gainOf(offer);
    for (const name of offer.classes) {
      const own = this.#classes[name] ?? [];
      this.#classes[name] = own;
      const behind = own.findIndex((one) => one < offer.quality.worth);
      own.splice(behind < 0 ? own.length : behind, 0, offer.quality.worth);
    }
    for (const { key } of offer.firsts) this.#shown.add(key);
  }

  /** How many frames of its class of a facet are in the set. */
  countOf(facet: Facet, { classes }: Offer): number {
    return this.#classes[classes[FACET_NAMES.indexOf(facet)]!]?.length ?? 0;
  }

  shows(key: string): boolean {
    return this.#shown.has(key);
  }
}

const NONE: readonly number[] = [];

/** It takes its place behind all that are as good, and those behind it move on by one. */
function gainInClass(sorted: readonly number[], quality: number, weights: Float64Array): number {
  let place = sorted.length;
  let lost = 0;
  for (; place > 0 && sorted[place - 1]! < quality; place -= 1)
    lost += sorted[place - 1]! * (weightAt(weights, place - 1) - weightAt(weights, place));
  return weightAt(weights, place) * quality - lost;
}

const weightAt = (weights: Float64Array, place: number): number => weights[Math.min(place, DEEPEST)]!;
