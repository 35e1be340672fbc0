/** The finish sheet's part of the desk's API: how the finish stands, and a picture as a finish that is tried would make it. */
import type { Hono } from 'hono';
import sharp from 'sharp';
import { lookOf } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import type { Day } from '../../host/day/types.js';
import { applyLook, type KeptFinishes } from '../../host/finish/looks/index.js';
import { DeskError } from '../DeskError.js';
import { parseFinish } from '../decisionSchema.js';
import { addKept } from './addKept.js';
import { cropsView } from './cropsView.js';
import { finishView, looksNow } from './finishView.js';

/** Large enough to see a look by, small enough to follow a mark that is moved. */
const TRIED_EDGE_PX = 640;
const QUALITY = 85;

export function addFinish(app: Hono, day: Day, kept?: KeptFinishes): void {
  addKept(app, kept);
  app.get('/api/finish', (context) => context.json(finishView(day.state())));
  app.get('/api/finish/crops', (context) => {
    const view = cropsView(day.state(), context.req.query('frame'));
    if (view === null)
      throw new DeskError(404, 'Expected a frame that is kept, but there is none of that name. Go back to the finish.');
    return context.json(view);
  });
  app.get('/pictures/tried/:frame', async (context) => {
    const frame = context.req.param('frame') as FrameId;
    const parsed = parseFinish(context.req.query('finish'));
    if (parsed.kind === 'wrong') throw new DeskError(400, parsed.sentence);
    const planned = looksNow(day.state()).looks.get(frame);
    // The small picture is one of ours, made by a child from the original: safe to read here.
    const path = planned ? await day.picture(frame) : null;
    if (!planned || path === null)
      throw new DeskError(404, 'No picture of this keeper can be tried: its file is not here or could not be read.');
    const small = sharp(path, { autoOrient: true });
    const { autoOrient } = await small.metadata();
    const framing = { turnDeg: levelOf(day, frame), crop: null };
    const look = lookOf(parsed.value, planned.balance ?? undefined, framing);
    const size = { widthPx: autoOrient.width, heightPx: autoOrient.height };
    const { picture } = await applyLook(small, size, look, TRIED_EDGE_PX);
    const bytes = await picture.jpeg({ quality: QUALITY }).toBuffer();
    return context.body(new Uint8Array(bytes), 200, {
      'Content-Type': 'image/jpeg',
      'Cache-Control': 'private, max-age=600',
    });
  });
}

function levelOf(day: Day, frame: FrameId): number {
  const measured = day.state().pixels.get(frame);
  return measured?.kind === 'measured' ? (measured.level?.turnDeg ?? 0) : 0;
}
