/** The JPEG that a body wrote of an exposure, before its headers, from the picture kept of it; the same bytes every time. */
import sharp from 'sharp';
import { keptFrame } from './frames.js';
import type { TrueFrame } from './truthTypes.js';

/** Fine enough that the second compression costs little of what the first left. */
const CAMERA = { quality: 90, chromaSubsampling: '4:2:0', optimiseCoding: true } as const;

export const recordedPicture = async ({ picture = '' }: Pick<TrueFrame, 'picture'>): Promise<Buffer> =>
  sharp(await keptFrame(picture))
    .jpeg(CAMERA)
    .toBuffer();
