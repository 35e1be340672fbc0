/** The small picture that stands for a frame on every screen: long edge 640 px, upright, sRGB, no metadata. */
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import type { FrameId } from '../../core/ids.js';
import type { RgbImage } from '../../core/measure/images.js';

const LONG_EDGE_PX = 640;
const QUALITY = 80;
/** From 1,024 px the linear kernel looks the same as the longer ones and takes two thirds of their time. */
const KERNEL = 'linear';

/** Under a name of its own until it is whole: a reader sees all of it or nothing. */
export const writeSmallPicture = async (folder: string, frameId: FrameId, image: RgbImage): Promise<void> => {
  const name = join(folder, `${frameId}.jpg`);
  const unfinished = join(folder, `.${frameId}.${process.pid}.part`);
  const picture = sharp(image.data, { raw: { width: image.width, height: image.height, channels: 3 } })
    .resize(LONG_EDGE_PX, LONG_EDGE_PX, { fit: 'inside', withoutEnlargement: true, kernel: KERNEL })
    // Tables made for this one picture would save two bytes in a hundred and double the time.
    .jpeg({ quality: QUALITY, optimiseCoding: false });
  try {
    await writeMakingFolder(unfinished, await picture.toBuffer());
    await rename(unfinished, name);
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
};

/** The folder is there but for the first picture, and asking each time costs as much as writing. */
const writeMakingFolder = async (path: string, bytes: Buffer): Promise<void> => {
  try {
    await writeFile(path, bytes);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, bytes);
  }
};
