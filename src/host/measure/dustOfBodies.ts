/** Looks for dust on each body's sensor, in its dividers: decoded as recorded, not turned upright, at about half of 24 megapixels. */
import sharp from 'sharp';
import type { Exposure } from '../../core/arrange/types.js';
import type { BodyKey, FrameId } from '../../core/ids.js';
import { type DustFound, type DustFrame, findDust } from '../../core/measure/dust/index.js';
import { MOST_PIXELS } from './decode.js';

export interface DustOfBody {
  readonly body: BodyKey;
  readonly found: DustFound;
}

const LONG_EDGE_PX = 3000;
const FULL_EDGE_PX = 6000;
/** More are read than are used: some show one scene. */
const MOST_FRAMES = 30;

export async function dustOfBodies(
  exposures: readonly Exposure[],
  original: (frame: FrameId) => string | null,
): Promise<readonly DustOfBody[]> {
  const all: DustOfBody[] = [];
  for (const [body, frames] of framesForDust(exposures))
    all.push({ body, found: await dustInFiles(dustFilesOf(frames, original)) });
  return all;
}

/** Each body's dividers: sky and ground, in which a spot shows. */
export function framesForDust(exposures: readonly Exposure[]): ReadonlyMap<BodyKey, readonly FrameId[]> {
  const byBody = new Map<BodyKey, FrameId[]>();
  for (const { body, role, frameId } of exposures) {
    const dividers = byBody.get(body) ?? [];
    byBody.set(body, dividers);
    if (role === 'divider') dividers.push(frameId);
  }
  return new Map([...byBody].map(([body, frames]) => [body, spread(frames)]));
}

/** Evenly over the day, so that the scenes differ. */
const spread = (frames: readonly FrameId[]): readonly FrameId[] =>
  frames.length <= MOST_FRAMES
    ? frames
    : Array.from({ length: MOST_FRAMES }, (_, at) => frames[Math.floor((at * frames.length) / MOST_FRAMES)]!);

export interface DustFile {
  readonly frameId: FrameId;
  /** Absolute. */
  readonly path: string;
}

export const dustFilesOf = (
  frames: readonly FrameId[],
  original: (frame: FrameId) => string | null,
): readonly DustFile[] =>
  frames.flatMap((frameId) => {
    const path = original(frameId);
    return path === null ? [] : [{ frameId, path }];
  });

export async function dustInFiles(files: readonly DustFile[]): Promise<DustFound> {
  const images: DustFrame[] = [];
  for (const { frameId, path } of files) {
    const image = await recorded(path);
    if (image !== null) images.push({ frameId, image });
  }
  const first = images[0]?.image;
  if (first === undefined)
    return {
      kind: 'cannot-tell',
      reason: 'Expected frames of sky or ground between sessions but none can be read. Photograph the sky a few times.',
    };
  return findDust({ frames: images, scale: Math.max(first.width, first.height) / FULL_EDGE_PX });
}

/** One damaged frame says nothing of dust, and its own trouble is told elsewhere. */
async function recorded(path: string): Promise<DustFrame['image'] | null> {
  try {
    const { data, info } = await sharp(path, { limitInputPixels: MOST_PIXELS, autoOrient: false })
      .resize(LONG_EDGE_PX, LONG_EDGE_PX, { fit: 'inside', withoutEnlargement: true })
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { data, width: info.width, height: info.height };
  } catch {
    return null;
  }
}
