/** The circuit as the sheet draws it: only the ways that may be used, minutes on those that are gone. */
import type { Circuit } from '../circuit/types.js';
import type { SheetMap, SheetRow } from './types.js';

export const mapOf = (circuit: Circuit, rows: readonly SheetRow[]): SheetMap => ({
  circuit: {
    ...circuit,
    ways: circuit.ways.filter(({ onFoot, byVehicle }) => onFoot !== 'nobody' || byVehicle !== 'nobody'),
  },
  minutes: minutesOf(rows),
});

/** Between two stays; each pair of spots once. */
function minutesOf(rows: readonly SheetRow[]): SheetMap['minutes'] {
  const found = new Map<string, SheetMap['minutes'][number]>();
  // Sessions that go by meanwhile stand between.
  const gone = rows.filter((row) => row.kind !== 'line' || row.is !== 'going-by');
  for (const [i, row] of gone.entries()) {
    const [before, after] = [gone[i - 1], gone[i + 1]];
    if (row.kind !== 'way' || before?.kind !== 'stay' || after?.kind !== 'stay') continue;
    const [from, to] = [before.spot.id, after.spot.id];
    found.set([from, to].sort().join(' '), { from, to, minutes: row.minutes });
  }
  return [...found.values()];
}
