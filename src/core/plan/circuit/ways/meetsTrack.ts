/** Where a way lies on the track. */
import type { Point } from '../../../numeric/localPlane.js';
import { distanceBetween, pointBetween } from '../segments.js';
import { nearestOnTrack, pointOf, type Track } from '../track.js';
import type { Way } from '../types.js';

/** No step is shorter; from further off the track the next look is taken where it could first be reached. */
const STEP_M = 2;

/** Where a way without a bridge or tunnel lies on the track: of each stretch on it the point nearest to the middle. */
export function meetsTrack(track: Track, way: Way): Point[] {
  if (way.crossing !== 'none') return [];
  const reachM = Math.max(STEP_M, track.halfWidthM);
  const line = way.line.map((place) => pointOf(track.plane, place));
  const found: Point[] = [];
  let best: { point: Point; distanceM: number } | null = null;
  for (let i = 1; i < line.length; i++) {
    const lengthM = distanceBetween(line[i - 1]!, line[i]!);
    for (let along = 0; along <= lengthM; ) {
      const point = lengthM === 0 ? line[i]! : pointBetween(line[i - 1]!, line[i]!, along / lengthM);
      const { distanceM } = nearestOnTrack(track, point);
      if (distanceM >= reachM && best !== null) {
        found.push(best.point);
        best = null;
      } else if (distanceM < reachM && (best === null || distanceM < best.distanceM)) best = { point, distanceM };
      const step = Math.max(STEP_M, distanceM - reachM);
      along = along < lengthM ? Math.min(lengthM, along + step) : lengthM + 1;
    }
  }
  return best === null ? found : [...found, best.point];
}
