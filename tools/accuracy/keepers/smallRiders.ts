/** Riders with few frames, of whom the best set can be found: some out of a simulated day, some made to be hard. */
import { ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import { arrange } from '../../../src/core/arrange/index.js';
import type { Pass } from '../../../src/core/arrange/types.js';
import { setsOf } from '../../../src/core/choose/chooseKeepers.js';
import { takenWith } from '../../../src/core/choose/index.js';
import type { Offer } from '../../../src/core/choose/offers.js';
import { FACET_NAMES, FIRSTS } from '../../../src/core/choose/setWorth.js';
import type { SpotFacts } from '../../../src/core/choose/types.js';
import { cover } from '../../../src/core/cover/index.js';
import type { FrameId, SpotId } from '../../../src/core/ids.js';
import { type Random, seededRandom } from '../../../src/core/numeric/random.js';
import type { Limits } from './exactSet.js';

export interface SmallRider {
  readonly name: string;
  readonly offers: readonly Offer[];
  readonly limits: Limits;
}

const SIDES = ['left', 'right', 'both'] as const;

/** Good frames of each rider of a simulated day; the spots' sides and sure shutters are made up. */
export function simulatedRiders(ridersAGroup: number, seed: number): readonly SmallRider[] {
  const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: ridersAGroup }));
  const { input, timetable } = syntheticDay({ seed, groups });
  const { pixels, files, log } = input;
  const arrangement = arrange(input);
  const coverage = cover({ arrangement, pixels, stands: [], spots: [], timetable, entries: null, now: null });
  const metadata = new Map(files.map((file) => [file.fileId, file.metadata]));
  const taken = takenWith(arrangement, (file) => metadata.get(file));
  const spots = new Map(
    [...new Set(arrangement.passes.flatMap(({ spot }) => spot ?? []))].map((spot, i): [SpotId, SpotFacts] => [
      spot,
      { side: SIDES[i % SIDES.length]!, sureShutterS: new Map(groups.map(({ key }) => [key, 1 / 400])) },
    ]),
  );
  const { setOf, rules } = setsOf({ arrangement, coverage, pixels, log, taken, spots });
  return arrangement.riders.map(({ key, code }) => ({
    name: `${code} of day ${seed}`,
    offers: setOf(key)!.offers.filter(({ quality }) => quality.judgement.kind === 'good'),
    limits: rules,
  }));
}

/** Of a rider's day some passes alone, under tight limits; null: too few frames are left. */
export function cutSmall({ name, offers }: SmallRider, seed: number): SmallRider | null {
  const random = seededRandom(seed);
  const passes = random.shuffled([...new Set(offers.map(({ pass }) => pass.index))]).slice(0, random.integer(5, 9));
  const few = offers.filter(({ pass }) => passes.includes(pass.index)).slice(0, 20);
  return few.length < 6 ? null : { name, offers: few, limits: limitsOf(random) };
}

const limitsOf = (random: Random): Limits => ({
  mostPerRider: random.integer(2, 6),
  mostPerSpot: random.integer(1, 3),
});

/**
 * Few classes and qualities far apart, so that one frame stands in the way of others; passes with near and far frames. Every
 * third has a pass for each frame and room at every spot: there the number alone limits.
 */
export function madeRider(seed: number): SmallRider {
  const random = seededRandom(seed);
  const isLoose = seed % 3 === 0;
  const frames = random.integer(6, 14);
  const spots = random.integer(1, 4);
  const passes = Array.from({ length: isLoose ? frames : random.integer(3, 8) }, (_, index): Pass => {
    const spot = random.chance(0.1) ? null : (`spot-${random.integer(1, spots)}` as SpotId);
    return {
      index,
      session: random.integer(0, 2),
      spot,
      body: 'Invented|One|1',
      bikes: [],
      rider: 'r',
    } as unknown as Pass;
  });
  const offers = Array.from({ length: frames }, (_, order) =>
    madeOffer(order, isLoose ? passes[order]! : random.oneOf(passes), random),
  );
  const limits = limitsOf(random);
  return { name: `made ${seed}`, offers, limits: isLoose ? { ...limits, mostPerSpot: frames } : limits };
}

function madeOffer(order: number, pass: Pass, random: Random): Offer {
  const view = random.oneOf(['narrow', 'between', 'wide'] as const);
  const side = random.oneOf(['left', 'right', 'both', 'unknown'] as const);
  const shutter = random.oneOf(['sure', 'slow', 'unknown'] as const);
  const number = random.chance(0.2) ? '27' : null;
  const height = random.between(0.1, 0.6);
  const classOf: Record<(typeof FACET_NAMES)[number], string> = {
    spot: `spot ${pass.spot}`,
    view,
    session: `session ${pass.session}`,
    side: `side ${side}`,
    shutter: `shutter ${shutter}`,
    set: 'set',
  };
  const first = (what: keyof typeof FIRSTS, is: string | null) =>
    is === null || is === 'both' || is === 'unknown' ? [] : [{ what, key: `${what}:${is}`, counts: FIRSTS[what] }];
  return {
    bike: { frameId: `f${order}` as FrameId, subject: 0 },
    pass,
    subject: { box: [0.3, 0.2, 0.3, height] } as unknown as Offer['subject'],
    quality: {
      worth: random.chance(0.3) ? random.between(0.8, 1) : random.between(0.05, 0.8),
      judgement: { kind: 'good', reason: 'made', comparedWith: 'own-pass', standing: null },
      framing: 1,
      looked: null,
    },
    seen: { view, side, shutter, shutterS: null, number },
    classes: FACET_NAMES.map((facet) => CLASS_NUMBERS.indexOf(classOf[facet])),
    firsts: [
      ...first('spot', pass.spot),
      ...first('number', number),
      ...first('side', side),
      ...first('shutter', shutter),
    ],
    order,
  };
}

const CLASS_NUMBERS: readonly string[] = [
  ...['null', 'spot-1', 'spot-2', 'spot-3', 'spot-4'].map((spot) => `spot ${spot}`),
  ...['narrow', 'between', 'wide'],
  ...[0, 1, 2].map((session) => `session ${session}`),
  ...['left', 'right', 'both', 'unknown'].map((side) => `side ${side}`),
  ...['sure', 'slow', 'unknown'].map((shutter) => `shutter ${shutter}`),
  'set',
];
