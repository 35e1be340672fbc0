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

/** A set that grows, with what it shows already. */
export class GrowingSet {
  readonly #classes = new Map<string, number[]>();
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
    for (const [i, facet] of FACET_NAMES.entries()) {
      const { share, again } = FACETS[facet];
      gain += share * gainInClass(this.#classes.get(classes[i]!) ?? NONE, quality.worth, again);
    }
    for (const { key, counts } of firsts) if (!this.#shown.has(key)) gain += counts;
    return gain;
  }

  add(offer: Offer): void {
    this.#worth += this.gainOf(offer);
    for (const name of offer.classes) {
      const own = this.#classes.get(name) ?? [];
      own.splice(placeOf(own, offer.quality.worth), 0, offer.quality.worth);
      this.#classes.set(name, own);
    }
    for (const { key } of offer.firsts) this.#shown.add(key);
  }

  /** How many frames of its class of a facet are in the set. */
  countOf(facet: Facet, { classes }: Offer): number {
    return this.#classes.get(classes[FACET_NAMES.indexOf(facet)]!)?.length ?? 0;
  }

  shows(key: string): boolean {
    return this.#shown.has(key);
  }
}

const NONE: readonly number[] = [];

/** Behind all that are as good. */
function placeOf(sorted: readonly number[], quality: number): number {
  const place = sorted.findIndex((one) => one < quality);
  return place < 0 ? sorted.length : place;
}

/** It takes its place, and all behind it move on by one. */
function gainInClass(sorted: readonly number[], quality: number, again: number): number {
  const place = placeOf(sorted, quality);
  let weight = again ** place;
  let gain = weight * quality;
  for (let j = place; j < sorted.length; j += 1) {
    gain -= sorted[j]! * weight * (1 - again);
    weight *= again;
  }
  return gain;
}
