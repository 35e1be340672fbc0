/** Debriefs made up for tests. */
import type { Debrief, HitRate, Taken } from './types.js';

export const NOTHING_FOUND: Debrief = {
  exposures: 0,
  withBike: 0,
  unsure: 0,
  keepers: 0,
  all: null,
  byShutter: [],
  bySpot: [],
  byGroup: [],
  byFocalLength: [],
  byShutterAtSpot: [],
  crossed: [],
  byHour: [],
  howLow: [],
  focus: [],
  shimmer: [],
  spots: [],
  asPlanned: null,
  compared: [],
  evidence: [],
};

/** Three of four hit, one of twenty cut. */
export const madeUpRate = (of: Taken, isFew = false): HitRate => ({
  kind: 'measurement',
  of,
  bikes: 120,
  hits: 90,
  soft: 24,
  cut: 6,
  passes: isFew ? 4 : 40,
  share: { share: 0.75, from: 0.66, to: 0.82 },
  isFew,
  evidence: [],
});
