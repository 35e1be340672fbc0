/** When two passes cannot be the same bike, whatever they look like. */
import type { Bikes } from '../bikes.js';
import type { RawPass } from '../passes.js';

/** No rider laps faster than this share of the fastest lap known: the known one may be a little off. */
const LAP_SHARE = 0.85;
/** Where nobody said how fast a lap can be: shorter than any circuit's, so it only rules out the plainly impossible. */
const LEAST_LAP_MS = 40_000;
/** Getting from one spot to another on the bike takes a while; common practice, no source. */
const LEAST_BETWEEN_SPOTS_MS = 8_000;

/** Whether two bikes of one picture are two, as `npm run accuracy clues` leaves it out to say what it is worth. */
export const APART_CLUES = { sameFrame: true };

export interface ApartRule {
  readonly leastLapMs: number;
}

/** @param fastestLapMs said or estimated; null where neither could be. */
export const lapRule = (fastestLapMs: number | null): ApartRule => ({
  leastLapMs: Math.max(LEAST_LAP_MS, LAP_SHARE * (fastestLapMs ?? 0)),
});

export function cannotBeOne(a: RawPass, b: RawPass, bikes: Bikes, { leastLapMs }: ApartRule): boolean {
  if (a.session !== b.session) return false;
  const gap = Math.max(a.start, b.start) - Math.min(a.end, b.end);
  // Bikes of one picture are closer than a lap besides; were they not looked at first, the lap would forbid them, too.
  if (gap <= 0 && sharesFrame(a, b, bikes)) return APART_CLUES.sameFrame;
  if (a.body === b.body && gap < leastLapMs) return true;
  if (a.stand === b.stand && gap >= 3000 && gap < leastLapMs) return true;
  return a.spot !== null && b.spot !== null && a.spot !== b.spot && Math.abs(gap) < LEAST_BETWEEN_SPOTS_MS;
}

function sharesFrame(a: RawPass, b: RawPass, bikes: Bikes): boolean {
  return a.bikes.some((i) => b.bikes.some((j) => bikes.exposure[i] === bikes.exposure[j]));
}
