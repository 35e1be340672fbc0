/**
 * What photographers do, as ranges with their mark. Published notes disagree, so a range is as much as can be said; nothing here
 * is measured. Shutters are in seconds, quickest first.
 */
import type { Aspect } from '../circuit/types.js';
import type { Level, Practice, Range } from './types.js';

const published = (range: Range, says: string): Practice => ({ range, basis: 'published', says });
const usual = (range: Range, says: string): Practice => ({ range, basis: 'common-practice', says });
const own = (range: Range, says: string): Practice => ({ range, basis: 'own-convention', says });

const SIDE_ON: readonly Practice[] = [
  usual([1 / 320, 1 / 160], 'side-on, dependable'),
  published([1 / 125, 1 / 60], 'side-on, for streaks: two photographers’ notes and a camera club’s'),
  published([1 / 250, 1 / 60], 'cars on a straight: a magazine of 2013'),
  published([1 / 60, 1 / 30], 'slower subjects: a magazine of 2013'),
  published([1 / 500, 1 / 250], 'and 1/125 is unlikely to be sharp: a former racer, in a camera club’s notes'),
];
const THREE_QUARTER: readonly Practice[] = [
  usual([1 / 800, 1 / 500], 'three-quarter'),
  published([1 / 500, 1 / 500], 'three-quarter: a motorcycle weekly of 1975'),
  published([1 / 500, 1 / 250], 'at an angle, with streaks: a magazine of 2013, of cars'),
];
const HEAD_ON: readonly Practice[] = [
  usual([1 / 2000, 1 / 1000], 'head-on, from 300 mm'),
  published([1 / 1000, 1 / 1000], 'head-on: a motorcycle weekly of 1975'),
];

export const SHUTTER_PRACTICE: Readonly<Record<Aspect, readonly Practice[]>> = {
  'side-on': SIDE_ON,
  'three-quarter': THREE_QUARTER,
  'head-on': HEAD_ON,
  'going-away': HEAD_ON,
};

/** The quickest start and the slowest end that practice gives a ladder. */
export const LADDER_BOUNDS: Readonly<Record<Aspect, { readonly slowestStart: number; readonly slowestEnd: number }>> = {
  'side-on': { slowestStart: 1 / 160, slowestEnd: 1 / 30 },
  'three-quarter': { slowestStart: 1 / 500, slowestEnd: 1 / 250 },
  'head-on': { slowestStart: 1 / 1000, slowestEnd: 1 / 1000 },
  'going-away': { slowestStart: 1 / 1000, slowestEnd: 1 / 1000 },
};

/** Frames that come out of slow panning, side-on at 1/125 and slower. */
export const SLOW_CHANCE: readonly Practice[] = [
  usual([0.2, 0.4], 'slow panning'),
  published([0.6, 0.7], 'slow panning by a skilled hand: a note of 2008, of cycling'),
];
export const SLOW_CHANCE_FROM_S = 1 / 125;

/** Lap time by level, as multiple of the record. */
export const PACE: Readonly<Record<Level, Practice>> = {
  fast: published([1.14, 1.14], 'a good advanced rider at one circuit'),
  inters: published([1.44, 1.44], 'an intermediate rider at one circuit'),
  novice: usual([1.4, 1.6], 'novices'),
};

/** Degrees of lean in a bend. */
export const LEAN: Readonly<Record<Level, Practice>> = {
  novice: usual([25, 35], 'novices'),
  inters: usual([35, 45], 'inters'),
  fast: usual([45, 55], 'fast'),
};
export const LEAN_OF_ANYBODY = usual([25, 55], 'nobody said how quick this group is');

/** EV (at ISO 100) of what faces the sun, by the height of the sun. Sunny-16 is 14.6. */
export const SUN_EV: readonly { readonly fromDeg: number; readonly ev: Practice }[] = [
  { fromDeg: 30, ev: published([14.6, 15], 'sunny-16: f/16 at 1/ISO') },
  { fromDeg: 12, ev: usual([13.5, 14.5], 'sun not high') },
  { fromDeg: 5, ev: usual([12, 13.5], 'sun low') },
  { fromDeg: -1, ev: usual([10, 12], 'sun on the horizon') },
];
/** Stops below the clear sky. */
export const CLOUD_STOPS = {
  'thin-cloud': usual([1, 1], 'hazy sun'),
  overcast: usual([2, 3], 'overcast'),
} as const;

export const BACKLIGHT_STOPS = usual([0.7, 1.3], 'backlight');
export const BIKE_STOPS = {
  dark: usual([-0.7, -0.3], 'a dark bike fills the frame'),
  middle: usual([0, 0], 'neither dark nor white'),
  white: usual([0.3, 0.7], 'a white bike fills the frame'),
} as const;
export const BIKE_STOPS_UNSAID = usual([-0.7, 0.7], 'dark −0.7 to −0.3, white +0.3 to +0.7');

/** A straight is quicker than the mean of the lap, by up to this. */
export const STRAIGHT_BY_MEAN = own([1, 1.9], 'a straight by the mean of the lap');
