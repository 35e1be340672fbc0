/** A keeper as a finish that is tried would make it, as large as a screen shows it. */
import sharp from 'sharp';
import { lookOf, type PlannedLook } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import type { Finish } from '../../core/log/finishSaid.js';
import type { Day } from '../../host/day/types.js';
import { applyLook } from '../../host/finish/looks/index.js';

/** Large enough to see a look by, small enough to follow a mark that is moved. */
export const TRIED_EDGE_PX = 640;
/** A screen's pane at two of its pixels to one of ours. */
export const SHARPEST_EDGE_PX = 2400;
const QUALITY = 85;

/** Null where nothing of the frame is here. */
export async function triedPicture(
  day: Day,
  planned: PlannedLook,
  finish: Finish,
  edgePx: number,
): Promise<Uint8Array<ArrayBuffer> | null> {
  const path =
    (edgePx > TRIED_EDGE_PX ? await wholePicture(day, planned.frame) : null) ?? (await day.picture(planned.frame));
  if (path === null) return null;
  const picture = sharp(path, { autoOrient: true });
  const { autoOrient } = await picture.metadata();
  const framing = { turnDeg: levelOf(day, planned.frame), crop: null };
  const look = lookOf(finish, planned.balance ?? undefined, framing);
  const size = { widthPx: autoOrient.width, heightPx: autoOrient.height };
  const finished = await applyLook(picture, size, look, edgePx);
  return new Uint8Array(await finished.picture.jpeg({ quality: QUALITY }).toBuffer());
}

/**
 * Both are pictures of ours, made by a child from the original: safe to read here. Where the original is not at hand the
 * small one has to do.
 */
async function wholePicture(day: Day, frame: FrameId): Promise<string | null> {
  const exposure = day.state().arrangement.exposures.find(({ frameId }) => frameId === frame);
  const { widthPx, heightPx } = (exposure && day.state().metadata.get(exposure.mainFile)) ?? {};
  if (!widthPx || !heightPx) return null;
  const answer = await day.crop(frame, { left: 0, top: 0, right: widthPx, bottom: heightPx });
  return answer.kind === 'crop' ? answer.path : null;
}

function levelOf(day: Day, frame: FrameId): number {
  const measured = day.state().pixels.get(frame);
  return measured?.kind === 'measured' ? (measured.level?.turnDeg ?? 0) : 0;
}
