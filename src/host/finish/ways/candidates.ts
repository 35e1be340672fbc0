/** Frames that a picture may be of: those with its time or name, or where there is none those that look like it. */
import { basename, extname } from 'node:path';
import type { Exposure } from '../../../core/arrange/types.js';
import {
  type Candidate,
  COMPARED_EDGE_PX,
  halved,
  hasName,
  likeness,
  namesOf,
  type Outlines,
  outlinesOf,
} from '../../../core/finish/index.js';
import type { FrameId } from '../../../core/ids.js';
import { parseWallTime } from '../../../core/numeric/wallTime.js';
import { type ReturnedPicture, smallGrey } from './readReturned.js';

export type PictureOf = (frame: FrameId) => Promise<string | null>;
export type CandidatesOf = (fileName: string, returned: ReturnedPicture) => Promise<readonly Candidate[]>;

/** Of all frames of a day, compared roughly, so many are looked at closely, which takes some milliseconds each. */
const MOST_LOOKED_AT = 12;

export function candidatesIn(exposures: readonly Exposure[], pictureOf: PictureOf): CandidatesOf {
  const names = namesOf(exposures);
  const outlines = outlinesOfFrames(pictureOf);
  return async (fileName, returned) => {
    const withClue = exposures
      .map(({ frameId, path, ...one }) => {
        const hasOurName = hasName(fileName, names.get(frameId)!);
        return {
          frameId,
          hasSameTime: isSameTime(one, returned),
          hasSameName: hasOurName || hasName(fileName, basename(path, extname(path))),
          hasOurName,
        };
      })
      .filter(({ hasSameTime, hasSameName }) => hasSameTime || hasSameName);
    if (withClue.length === 0) return byContent(exposures, outlines, returned);
    const compared = withClue.map(async (one) => ({
      ...one,
      likeness: likenessOf((await outlines(one.frameId))?.fine, returned),
    }));
    return Promise.all(compared);
  };
}

/** Cameras and programs differ in what they write of the fraction; ours is the corrected time, the camera's its own. */
function isSameTime({ recorded, wall }: Pick<Exposure, 'recorded' | 'wall'>, { captured }: ReturnedPicture): boolean {
  if (captured.kind !== 'recorded') return false;
  const taken = parseWallTime(captured.text);
  if (taken.kind !== 'wall') return false;
  const second = Math.floor(taken.wall / 1000);
  return [recorded, wall].some((time) => typeof time === 'number' && Math.floor(time / 1000) === second);
}

async function byContent(
  exposures: readonly Exposure[],
  outlines: OutlinesOf,
  returned: ReturnedPicture,
): Promise<readonly Candidate[]> {
  const seen: { frameId: FrameId; rough: number }[] = [];
  for (const { frameId } of exposures) {
    seen.push({ frameId, rough: likenessOf((await outlines(frameId))?.rough, returned) });
  }
  const close = seen.sort((a, b) => b.rough - a.rough).slice(0, MOST_LOOKED_AT);
  return Promise.all(
    close.map(async ({ frameId }) => ({
      frameId,
      likeness: likenessOf((await outlines(frameId))?.fine, returned),
      hasSameTime: false,
      hasSameName: false,
      hasOurName: false,
    })),
  );
}

const likenessOf = (frame: Outlines | undefined, { small }: ReturnedPicture): number =>
  frame === undefined ? 0 : likeness(frame, small);

type OutlinesOf = (frame: FrameId) => Promise<{ readonly fine: Outlines; readonly rough: Outlines } | null>;

/** Read once a frame. Without a picture of it a frame is like nothing. */
function outlinesOfFrames(pictureOf: PictureOf): OutlinesOf {
  const known = new Map<FrameId, ReturnType<OutlinesOf>>();
  const read: OutlinesOf = async (frame) => {
    const path = await pictureOf(frame);
    if (path === null) return null;
    const grey = await smallGrey(path, COMPARED_EDGE_PX);
    return { fine: outlinesOf(grey), rough: outlinesOf(halved(grey)) };
  };
  return (frame) => {
    const found = known.get(frame) ?? read(frame);
    known.set(frame, found);
    return found;
  };
}
