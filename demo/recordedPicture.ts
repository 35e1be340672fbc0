/** The JPEG that a body wrote of an exposure, before its headers, from the picture kept of it; the same bytes every time. */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import type { TrueFrame } from './truthTypes.js';

/** Fine enough that the second compression costs little of what the first left. */
const CAMERA = { quality: 90, chromaSubsampling: '4:2:0', optimiseCoding: true } as const;

export const recordedPicture = async ({ picture = '' }: Pick<TrueFrame, 'picture'>): Promise<Buffer> =>
  sharp(await readFile(fileURLToPath(new URL(`frames/${picture}`, import.meta.url))))
    .jpeg(CAMERA)
    .toBuffer();
