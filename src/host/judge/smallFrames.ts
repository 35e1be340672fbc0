/** The small pictures of a burst, as telling the side needs them. */
import sharp from 'sharp';
import { SIDE_EDGE_PX, type SmallFrame } from '../../core/judge/index.js';

export interface BurstFrame extends Omit<SmallFrame, 'picture'> {
  /** Path of its small picture in the picture cache. */
  readonly picture: string;
}

/** Empty where one of them is not in the cache, or is torn: then nobody knows the side. */
export async function smallFrames(burst: readonly BurstFrame[]): Promise<readonly SmallFrame[]> {
  try {
    return await Promise.all(burst.map(smallFrame));
  } catch {
    return [];
  }
}

async function smallFrame({ picture, ...frame }: BurstFrame): Promise<SmallFrame> {
  const { data, info } = await sharp(picture, { failOn: 'truncated' })
    .greyscale()
    .resize(SIDE_EDGE_PX)
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { ...frame, picture: { data, width: info.width, height: info.height } };
}
