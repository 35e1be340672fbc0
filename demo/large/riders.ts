/**
 * What the riders of an enlarged meeting look like, by seed: a third on black bikes, two hire fleets whose bikes are alike,
 * most without a number, some in other leathers and helmet after lunch.
 */
import type { ColourName } from '../../src/core/measure/types.js';
import type { BikePattern, HelmetPattern, Livery, SuitPattern } from '../render/livery.js';
import { type Random, randomFrom } from '../render/noise.js';
import type { ShapeName } from '../render/shapes.js';
import type { SimulatedRider } from '../simulated-day/index.js';

export interface LargeRider {
  readonly shape: ShapeName;
  /** Before and after lunch. */
  readonly liveries: readonly [Livery, Livery];
}

/** Shares as a photographer meets them; common practice, no source. */
const BLACK_SHARE = 1 / 3;
const NUMBERED_SHARE = 0.3;

const PAINTS: readonly ColourName[] = [
  'white',
  'red',
  'blue',
  'green',
  'lime',
  'orange',
  'yellow',
  'silver',
  'grey',
  'navy',
  'purple',
  'teal',
];
const SUITS: readonly ColourName[] = ['black', 'black', 'black', 'white', 'red', 'blue', 'grey', 'navy', 'green'];
const BIKES: readonly BikePattern[] = ['plain', 'sweep', 'bands', 'split', 'lowerHalf', 'stripe', 'flames', 'checks'];
const SUIT_PATTERNS: readonly SuitPattern[] = ['plain', 'sides', 'yoke', 'hoops', 'legs'];
const HELMETS: readonly HelmetPattern[] = ['plain', 'wave', 'spokes', 'stripe', 'crown'];

type Bike = { readonly shape: ShapeName } & Pick<
  Livery,
  'base' | 'accent' | 'line' | 'pattern' | 'rims' | 'number' | 'plate'
>;
type Dress = Omit<Livery, keyof Bike | 'dirt'>;

export function largeRiders(seed: number, riders: readonly SimulatedRider[]): readonly LargeRider[] {
  const random = randomFrom(seed * 7331 + 5);
  const fleets = [inventBike(random, 'white'), inventBike(random, 'red')];
  const used = new Set<string>();
  return riders.map(({ fleet, changesDress }) => {
    const own = inventBike(random, random.isTrue(BLACK_SHARE) ? 'black' : random.oneOf(PAINTS));
    const { shape, ...bike } = fleet < 0 ? { ...own, number: inventNumber(random, used) } : fleets[fleet]!;
    const dress = inventDress(random);
    const dirt = random.between(0, 0.6);
    const later = changesDress ? inventDress(random) : dress;
    return {
      shape,
      liveries: [
        { ...bike, ...dress, dirt },
        { ...bike, ...later, dirt },
      ],
    };
  });
}

function inventBike(random: Random, base: ColourName): Bike {
  const others = PAINTS.filter((paint) => paint !== base);
  return {
    shape: random.oneOf(['sport', 'sport', 'sport', 'twin', 'naked'] as const),
    base,
    accent: random.oneOf(others),
    line: random.oneOf(others),
    pattern: random.oneOf(BIKES),
    rims: random.isTrue(0.65) ? 'black' : random.oneOf(PAINTS),
    number: null,
    plate: random.oneOf(['white', 'white', 'yellow'] as const),
  };
}

function inventDress(random: Random): Dress {
  const suit = random.oneOf(SUITS);
  return {
    suit,
    suitAccent: random.oneOf(PAINTS),
    suitPattern: random.oneOf(SUIT_PATTERNS),
    helmet: random.oneOf([...PAINTS, 'black', 'black', 'white'] as const),
    helmetAccent: random.oneOf(PAINTS),
    helmetPattern: random.oneOf(HELMETS),
    boots: suit === 'white' ? 'white' : 'black',
    gloves: random.isTrue(0.6) ? 'black' : random.oneOf(PAINTS),
    visor: random.oneOf(['dark', 'dark', 'blue', 'amber'] as const),
  };
}

function inventNumber(random: Random, used: Set<string>): string | null {
  if (!random.isTrue(NUMBERED_SHARE)) return null;
  for (;;) {
    const number = String(random.whole(1, random.isTrue(0.75) ? 99 : 399));
    if (used.has(number)) continue;
    used.add(number);
    return number;
  }
}
