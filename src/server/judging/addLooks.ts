/** Close looks over HTTP: what was judged of some bikes, and crops of frames at full resolution. */
import { readFile } from 'node:fs/promises';
import type { Hono } from 'hono';
import type { BikeRef } from '../../core/arrange/types.js';
import type { FrameId } from '../../core/ids.js';
import type { Day } from '../../host/day/types.js';
import { rectOfName } from '../../host/judge/index.js';
import { DeskError } from '../DeskError.js';
import { closeLooksView, judgingView } from './closeLooks.js';

const MOST_LOOKS = 60;
const FRAME = /^[0-9a-f]{32}$/;

export function addLooks(app: Hono, day: Day): void {
  app.get('/api/judging', (context) => context.json(judgingView(day.state())));
  /** Who asks has these bikes on a screen, or soon will: they are judged before all others. */
  app.get('/api/looks', async (context) => {
    const bikes = bikesAsked(context.req.query('bikes') ?? '');
    day.lookAt(bikes);
    return context.json(await closeLooksView(day, bikes));
  });
  app.get('/pictures/:frame/:crop{.+\\.jpg}', async (context) => {
    const { frame, crop } = context.req.param();
    const rect = rectOfName(crop.replace(/\.jpg$/, ''));
    if (!FRAME.test(frame) || rect === null)
      throw new DeskError(
        400,
        `Expected the 32 hex digits of a frame and left-top-right-bottom in pixels but got ${`${frame}/${crop}`.slice(0, 80)}.`,
      );
    const etag = `"${frame}-${crop}"`;
    if (context.req.header('if-none-match') === etag) return context.body(null, 304);
    const answer = await day.crop(frame as FrameId, rect);
    if (answer.kind === 'no-crop') throw new DeskError(404, answer.sentence);
    return context.body(new Uint8Array(await readFile(answer.path)), 200, {
      'Content-Type': 'image/jpeg',
      'Cache-Control': 'private, max-age=31536000, immutable',
      ETag: etag,
    });
  });
}

function bikesAsked(text: string): readonly BikeRef[] {
  const names = text === '' ? [] : text.split(',');
  if (names.length > MOST_LOOKS)
    throw new DeskError(400, `Expected at most ${MOST_LOOKS} bikes at once but got ${names.length}. Ask for fewer.`);
  return names.map((name) => {
    const [frame = '', subject = ''] = name.split(':');
    if (FRAME.test(frame) && /^(-1|\d{1,3})$/.test(subject))
      return { frameId: frame as FrameId, subject: Number(subject) };
    throw new DeskError(
      400,
      `Expected bikes as the 32 hex digits of a frame, a colon and a number, but got “${name.slice(0, 40)}”.`,
    );
  });
}
