/** One's way through the day, from the rows of the run sheet: from stop to stop, with lunch at the van. */
import type { SpotId } from '../../core/ids.js';
import type { SheetRow } from '../../core/plan/sheet/types.js';
import type { RouteLeg } from './CircuitMap.js';

export function routeOf(rows: readonly SheetRow[], now: number): readonly RouteLeg[] {
  const legs: RouteLeg[] = [];
  let place: SpotId | null = null;
  let way: Extract<SheetRow, { kind: 'way' }> | null = null;
  for (const row of rows) {
    if (row.kind === 'way') way = row;
    const to = row.kind === 'stay' ? row.spot.id : null;
    if (row.kind !== 'stay' && !(row.kind === 'line' && row.is === 'lunch')) continue;
    if (way !== null) legs.push({ from: place, to, minutes: way.minutes, isDone: way.to <= now });
    place = to;
    way = null;
  }
  return legs;
}
