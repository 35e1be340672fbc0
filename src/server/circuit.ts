/** The circuit at the desk: as it was drawn last, and the invented one to try things on. What is drawn is said as a gesture. */
import type { Hono } from 'hono';
import type { GestureId } from '../core/ids.js';
import { drawnBy } from '../core/log/index.js';
import type { Decision, FoldedLog } from '../core/log/types.js';
import type { Circuit } from '../core/plan/circuit/types.js';
import type { Day } from '../host/day/types.js';
import { lastSaid } from '../host/plan/sheet/saidOfPlan.js';
import type { CircuitView } from './circuitTypes.js';
import { DeskError } from './DeskError.js';
import { knownOf } from './views/known.js';

export function addCircuit(app: Hono, day: Day, invented: (() => Promise<Circuit>) | undefined): void {
  app.get('/api/circuit', (context) => {
    const { asOf, about, log } = day.state();
    return context.json<CircuitView>({
      asOf,
      meeting: about.id,
      name: about.circuit ?? null,
      zone: about.zone,
      circuit: lastSaid(log, 'circuit')?.circuit ?? null,
      drawnBy: drawnBy(log),
      hasPermit: lastSaid(log, 'permit')?.has ?? null,
      hasInvented: invented !== undefined,
      initials: knownOf(day.state()).initials,
    });
  });
  app.get('/api/circuit/invented', async (context) => {
    if (invented === undefined)
      throw new DeskError(404, 'This desk has no invented circuit. Bring in a recorded lap or a circuit file.');
    return context.json<Circuit>(await invented());
  });
}

/** A change of a drawing that another one has replaced would have no effect: whoever says it has to know. */
export function refuseOldChange(log: FoldedLog, gesture: GestureId, decisions: readonly Decision[]): void {
  const drawn = drawnBy(log);
  const isOld = decisions.some((decision) => decision.kind === 'circuit-edit' && decision.of !== drawn);
  if (!isOld || log.lines.some((line) => line.gesture === gesture)) return;
  throw new DeskError(
    409,
    'Nothing was written down. Expected a change of the circuit that stands, but another one was brought in or taken back meanwhile. Look at it and say the change again.',
  );
}
