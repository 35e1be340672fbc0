/** How right riders are, bike by bike: how whole and pure, what is placed, what of it is wrong, who is lost. */
import type { Arrangement } from '../../src/core/arrange/types.js';
import { bcubed, type PrecisionRecall } from '../../src/core/numeric/bcubed.js';
import { adjustedRand, type VMeasure, vMeasure } from '../../src/core/numeric/clusterAgreement.js';
import type { Eye } from './person.js';

/** A bike that the truth and a detector both saw, and whose it was found to be. */
export interface PlacedBike {
  readonly trueRider: string;
  readonly rider: string;
  /** False where the program would rather ask: it is then nobody's. */
  readonly isPlaced: boolean;
  readonly confidence: number | null;
}

/** Bikes that no true rider is behind (a piece of one, a parked machine) are not scored. */
export function placedBikes({ passes, unsure }: Arrangement, { riderOf }: Eye): readonly PlacedBike[] {
  const open = new Set(unsure ?? []);
  return passes.flatMap(({ bikes, rider, index, confidence }) =>
    bikes.flatMap((bike): PlacedBike[] => {
      const trueRider = riderOf(bike);
      if (typeof trueRider !== 'string') return [];
      return [{ trueRider, rider, isPlaced: !open.has(index), confidence: confidence ?? null }];
    }),
  );
}

export interface RidersScore {
  readonly riders: PrecisionRecall;
  readonly adjustedRand: number;
  readonly vMeasure: VMeasure;
  /** True riders who are most of no rider found. */
  readonly lost: readonly string[];
  readonly found: number;
  readonly placedShare: number;
  /** Of placed bikes, those shown to another rider than most of that set. */
  readonly wrongShare: number;
}

/** Bikes that are nobody's count as riders of one frame each. */
export function scoreRiders(bikes: readonly PlacedBike[]): RidersScore {
  const items = bikes.map(({ trueRider, rider, isPlaced }, i) => ({
    cluster: isPlaced ? rider : `unplaced ${i}`,
    truth: trueRider,
  }));
  const placed = bikes.filter(({ isPlaced }) => isPlaced);
  const owners = ownersOf(placed);
  const owned = new Set(owners.values());
  const wrong = placed.filter(({ rider, trueRider }) => owners.get(rider) !== trueRider).length;
  const riders = bcubed(items);
  if (riders === null) throw new Error('Expected bikes to score, but the day holds none that were found.');
  return {
    riders,
    adjustedRand: adjustedRand(items)!,
    vMeasure: vMeasure(items)!,
    lost: [...new Set(bikes.map(({ trueRider }) => trueRider))].filter((rider) => !owned.has(rider)).sort(),
    found: owners.size,
    placedShare: placed.length / bikes.length,
    wrongShare: wrong / Math.max(1, placed.length),
  };
}

/** Per rider found, whose frames most of it are. */
export function ownersOf(bikes: readonly Pick<PlacedBike, 'rider' | 'trueRider'>[]): ReadonlyMap<string, string> {
  const counts = new Map<string, Map<string, number>>();
  for (const { rider, trueRider } of bikes) {
    const row = counts.get(rider) ?? new Map<string, number>();
    row.set(trueRider, (row.get(trueRider) ?? 0) + 1);
    counts.set(rider, row);
  }
  return new Map([...counts].map(([rider, row]) => [rider, [...row].reduce((a, b) => (b[1] > a[1] ? b : a))[0]]));
}

/** One line for a reader. */
export function scoreWords({
  riders,
  adjustedRand: rand,
  vMeasure: { v },
  found,
  lost,
  ...placed
}: RidersScore): string {
  const { precision, recall, f1 } = riders;
  const shares = `${(100 * placed.placedShare).toFixed(1)} % placed, ${(100 * placed.wrongShare).toFixed(2)} % of them wrong`;
  return (
    `P ${precision.toFixed(4)} R ${recall.toFixed(4)} F1 ${f1.toFixed(4)}, adjusted Rand ${rand.toFixed(3)}, ` +
    `V ${v.toFixed(3)}, ${found} riders found, ${lost.length} lost; ${shares}`
  );
}
