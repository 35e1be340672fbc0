/** The finish sheet's part of the desk's API: how the finish stands, and a picture as a finish that is tried would make it. */
import type { Hono } from 'hono';
import type { FrameId } from '../../core/ids.js';
import type { Day } from '../../host/day/types.js';
import type { KeptFinishes } from '../../host/finish/looks/index.js';
import { DeskError } from '../DeskError.js';
import { parseFinish } from '../decisionSchema.js';
import { addKept } from './addKept.js';
import { cropsView } from './cropsView.js';
import { finishView, looksNow } from './finishView.js';
import { SHARPEST_EDGE_PX, TRIED_EDGE_PX, triedPicture } from './triedPicture.js';

const NOTHING_KEPT = 'Expected a frame that is kept, but none is yet. Keep one in choosing, then come back.';
const NOT_KEPT = 'Expected a frame that is kept, but there is none of that name. Go back to the finish.';

export function addFinish(app: Hono, day: Day, kept?: KeptFinishes): void {
  addKept(app, kept);
  app.get('/api/finish', (context) => context.json(finishView(day.state())));
  app.get('/api/finish/crops', (context) => {
    const asked = context.req.query('frame');
    const view = cropsView(day.state(), asked);
    if (view === null) throw new DeskError(404, asked === undefined ? NOTHING_KEPT : NOT_KEPT);
    return context.json(view);
  });
  app.get('/pictures/tried/:frame', async (context) => {
    const parsed = parseFinish(context.req.query('finish'));
    if (parsed.kind === 'wrong') throw new DeskError(400, parsed.sentence);
    const edgePx = edgeOf(context.req.query('edge'));
    const planned = looksNow(day.state()).looks.get(context.req.param('frame') as FrameId);
    const bytes = planned ? await triedPicture(day, planned, parsed.value, edgePx) : null;
    if (bytes === null)
      throw new DeskError(404, 'No picture of this keeper can be tried: its file is not here or could not be read.');
    return context.body(bytes, 200, { 'Content-Type': 'image/jpeg', 'Cache-Control': 'private, max-age=600' });
  });
}

function edgeOf(text: string | undefined): number {
  const edgePx = text === undefined ? TRIED_EDGE_PX : Number(text);
  if (Number.isInteger(edgePx) && edgePx >= TRIED_EDGE_PX && edgePx <= SHARPEST_EDGE_PX) return edgePx;
  throw new DeskError(
    400,
    `Expected a picture of ${TRIED_EDGE_PX} to ${SHARPEST_EDGE_PX} pixels along its edge but was asked for “${String(text).slice(0, 20)}”. Reload the sheet.`,
  );
}
