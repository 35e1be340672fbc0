/** The piece of a frame that shows a spot on the sensor. It never changes under its address, so a browser keeps it for ever. */
import type { Hono } from 'hono';
import type { FrameId } from '../../core/ids.js';
import type { Day } from '../../host/day/types.js';
import type { KitLooker } from '../../host/kit/index.js';
import { DeskError } from '../DeskError.js';

/** A few bodies with a few spots each; some tens of kilobytes a picture. */
const MOST_KEPT = 100;

export function addSpotPictures(app: Hono, day: Day, looker: KitLooker): void {
  const kept = new Map<string, Promise<Buffer<ArrayBuffer>>>();

  const made = (frame: FrameId, x: number, y: number, acrossPx: number): Promise<Buffer<ArrayBuffer>> => {
    const key = [frame, x, y, acrossPx].join();
    const before = kept.get(key);
    if (before) return before;
    const making = make(frame, x, y, acrossPx);
    kept.set(key, making);
    making.catch(() => kept.delete(key));
    const oldest = kept.keys().next();
    if (kept.size > MOST_KEPT && !oldest.done) kept.delete(oldest.value);
    return making;
  };
  const make = async (frame: FrameId, x: number, y: number, acrossPx: number): Promise<Buffer<ArrayBuffer>> => {
    const path = day.original(frame);
    if (path === null) throw new DeskError(404, 'No piece can be cut of this frame: its file is not here.');
    const answer = await looker.run({ kind: 'spot', spot: { path, x, y, acrossPx } });
    if (answer.kind === 'picture') return Buffer.from(answer.jpeg, 'base64');
    throw new DeskError(
      404,
      `No piece can be cut of this frame: ${answer.kind === 'failed' ? answer.sentence : 'no answer came'}.`,
    );
  };

  app.get('/pictures/:frame/spot', async (context) => {
    const frame = context.req.param('frame');
    const number = (name: string, most: number): number => {
      const value = Number(context.req.query(name) ?? Number.NaN);
      if (value >= 0 && value <= most) return value;
      throw new DeskError(400, `Expected ${name} from 0 to ${most} but got ${context.req.query(name) ?? 'none'}.`);
    };
    if (!/^[0-9a-f]{32}$/.test(frame))
      throw new DeskError(400, `Expected the 32 hex digits of a frame but got ${frame.slice(0, 40)}.`);
    const bytes = await made(frame as FrameId, number('x', 1), number('y', 1), number('across', 1000));
    return context.body(bytes, 200, {
      'Content-Type': 'image/jpeg',
      'Cache-Control': 'private, max-age=31536000, immutable',
    });
  });
}
