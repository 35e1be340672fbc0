/** The circuit at the desk: as it was drawn last, and the invented one to try things on. What is drawn is said as a gesture. */
import type { Hono } from 'hono';
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
