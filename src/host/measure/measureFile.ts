/** What a measuring child does with one job. Runs in the child only: it opens models and decoders. */
import sharp from 'sharp';
import { readMetadata } from '../metadata/index.js';
import { decodeForMeasuring, PictureError } from './decode.js';
import type { ChildSettings } from './protocol.js';
import { openSeeing } from './seeing.js';
import { writeSmallPicture } from './smallPicture.js';
import type { MeasureAnswer, MeasureJob } from './types.js';
import { unmeasurable } from './unmeasurable.js';

export interface Measurer {
  /** Rejects only for what does not lie in the file: a lost disk, a full one. */
  handle(job: MeasureJob): Promise<MeasureAnswer>;
}

type PixelsJob = Extract<MeasureJob, { kind: 'pixels' }>;

export const createMeasurer = async ({ pictureFolder }: ChildSettings): Promise<Measurer> => {
  // One child a core: more threads would only take each other's time, and a cache would only hold memory.
  sharp.concurrency(1);
  sharp.cache(false);
  const seeing = await openSeeing();
  const measurePixels = async (job: PixelsJob): Promise<MeasureAnswer> => {
    const { frameId } = job.metadata;
    try {
      const { image, source } = await decodeForMeasuring(job.path, job.metadata);
      await writeSmallPicture(pictureFolder, frameId, image);
      const measured = await seeing.measure(image, { frameId, source });
      const pixels = job.tier === 'full' ? await seeing.refine(measured, job.path, job.metadata) : measured;
      return { kind: 'pixels', frameId, pixels };
    } catch (error) {
      if (!(error instanceof PictureError)) throw error;
      return { kind: 'pixels', frameId, pixels: unmeasurable(frameId, error.message) };
    }
  };
  return {
    handle: async (job) =>
      job.kind === 'metadata'
        ? { kind: 'metadata', fileId: job.fileId, metadata: await readMetadata(job.path, job.fileId) }
        : measurePixels(job),
  };
};
