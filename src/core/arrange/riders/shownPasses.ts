/** Of a rider as found, the passes that it is known by: those above the line, or the surest where none is. */
import type { Clustering } from './clusterPasses.js';
import { confidenceOf, isBelowLine } from './confidence.js';

/** Ascending, never empty. */
export function shownPasses(
  rider: number,
  { clusters, ties }: Pick<Clustering, 'clusters' | 'ties'>,
): readonly number[] {
  const { passes } = clusters[rider]!;
  const shown = passes.filter((p) => !isBelowLine(ties[p]));
  if (shown.length > 0) return shown;
  const sureness = (p: number): number => confidenceOf(ties[p]!)!;
  return [passes.reduce((best, p) => (sureness(p) > sureness(best) ? p : best))];
}
