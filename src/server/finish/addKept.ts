/** Finishes kept for other meetings, by name: listed, and kept. */
import type { Hono } from 'hono';
import { z } from 'zod';
import { finishMembers } from '../../core/log/finishSchemas.js';
import type { KeptFinishes } from '../../host/finish/looks/index.js';
import { DeskError } from '../DeskError.js';
import { firstTrouble } from '../decisionSchema.js';
import type { KeptView } from './types.js';

const request = z.strictObject({ finish: finishMembers.finish });

/** A desk that was opened without such a file says so, since any other address answers with the page itself. */
export function addKept(app: Hono, file: KeptFinishes | undefined): void {
  const kept = (): KeptFinishes => {
    if (file === undefined) throw new DeskError(404, 'This desk was opened without finishes of other meetings.');
    return file;
  };
  app.get('/api/finish/kept', async (context) => {
    const view: KeptView = { finishes: await refusing(kept().read()) };
    return context.json(view);
  });
  app.post('/api/finish/kept', async (context) => {
    const parsed = request.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success) throw new DeskError(400, `Nothing was kept. ${firstTrouble(parsed.error)}.`);
    const view: KeptView = { finishes: await refusing(kept().keep(parsed.data.finish)) };
    return context.json(view);
  });
}

/** A damaged file is told of as it is: nothing was changed. */
const refusing = <T>(work: Promise<T>): Promise<T> =>
  work.catch((cause: unknown) => {
    throw new DeskError(409, cause instanceof Error ? cause.message : String(cause), { cause });
  });
