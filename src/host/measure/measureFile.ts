/** What a measuring child does with one job. Runs in the child only: it opens models and decoders. */
import sharp from 'sharp';
import { hasMachine, mayHoldCode, withCards } from '../../core/measure/cards/index.js';
import { type RgbImage, rectOf } from '../../core/measure/images.js';
import type { FileMetadata, FrameMeasured } from '../../core/measure/types.js';
import { readQr } from '../cards/readQr.js';
import { judgeFile, keepCrop } from '../judge/index.js';
import { readMetadata } from '../metadata/index.js';
import { measureImage, openVision, refineSharpness, type Vision } from '../vision/index.js';
import { decodeForMeasuring, decodeRegion, PictureError } from './decode.js';
import type { ChildSettings } from './protocol.js';
import { writeSmallPicture } from './smallPicture.js';
import type { LookAnswer, LookJob, MeasureAnswer, MeasureJob } from './types.js';
import { unjudgeable, unmeasurable } from './unmeasurable.js';

export interface Measurer {
  /** Rejects only for what does not lie in the file: a lost disk, a full one. */
  handle(job: MeasureJob | LookJob): Promise<MeasureAnswer | LookAnswer>;
  close(): Promise<void>;
}

type CropJob = Extract<LookJob, { kind: 'crop' }>;
type JudgeJob = Extract<LookJob, { kind: 'judge' }>;
type PixelsJob = Extract<MeasureJob, { kind: 'pixels' }>;

/** `eyes`: opened already, for the bench, which listens to what is asked of the networks. */
export const createMeasurer = async ({ pictureFolder }: ChildSettings, eyes?: Vision): Promise<Measurer> => {
  // One child a core: more threads would only take each other's time, and a cache would only hold memory.
  sharp.concurrency(1);
  sharp.cache(false);
  const vision = eyes ?? (await openVision());
  return {
    handle: async (job) => {
      switch (job.kind) {
        case 'metadata':
          return { kind: 'metadata', fileId: job.fileId, metadata: await readMetadata(job.path, job.fileId) };
        case 'pixels':
          return pixelsOrReason(job, () => measurePixels(job, vision, pictureFolder));
        case 'judge':
          return judgedOrReason(job, vision);
        case 'crop':
          return cropOrReason(job);
      }
    },
    close: () => vision.close(),
  };
};

const pixelsOrReason = async (job: PixelsJob, measure: () => Promise<FrameMeasured>): Promise<MeasureAnswer> => {
  const { frameId } = job.metadata;
  try {
    return { kind: 'pixels', frameId, pixels: await measure() };
  } catch (error) {
    if (!(error instanceof PictureError)) throw error;
    return { kind: 'pixels', frameId, pixels: unmeasurable(frameId, job.tier, error.message) };
  }
};

const judgedOrReason = async (job: JudgeJob, vision: Vision): Promise<LookAnswer> => {
  try {
    return { kind: 'judge', bike: await judgeFile(vision, job.cropFolder, job) };
  } catch (error) {
    if (!(error instanceof PictureError)) throw error;
    return { kind: 'judge', bike: unjudgeable(job, error.message) };
  }
};

const cropOrReason = async (job: CropJob): Promise<LookAnswer> => {
  try {
    return { kind: 'crop', path: await keepCrop(job.cropFolder, job) };
  } catch (error) {
    if (!(error instanceof PictureError)) throw error;
    return { kind: 'no-crop', sentence: error.message };
  }
};

const measurePixels = async (job: PixelsJob, vision: Vision, pictureFolder: string): Promise<FrameMeasured> => {
  const known = job.tier === 'full' ? job.known : undefined;
  const measured = known ?? (await measurePreview(job, vision, pictureFolder));
  return job.tier === 'full' ? refineMain(measured, job.path, job.metadata) : measured;
};

const measurePreview = async (
  { path, metadata }: PixelsJob,
  vision: Vision,
  pictureFolder: string,
): Promise<FrameMeasured> => {
  const { image, source } = await decodeForMeasuring(path, metadata);
  const { frameId, lens } = metadata;
  const facts = { frameId, source, tier: 'preview' as const };
  const { focalLength35Mm } = lens;
  const [measured] = await Promise.all([
    measureImage(vision, image, focalLength35Mm === undefined ? facts : { ...facts, focalLength35Mm }),
    writeSmallPicture(pictureFolder, frameId, image),
  ]);
  return seeCards(measured, image);
};

/** Among bikes, which are nearly all frames, a code is read only where one may be: that look takes a fraction of the reading. */
const seeCards = async (measured: FrameMeasured, image: RgbImage): Promise<FrameMeasured> => {
  if (hasMachine(measured) && !mayHoldCode(image)) return measured;
  return withCards(measured, await readQr(image));
};

/** The main subject alone: it is what a burst's frames are ranked by. A frame without one has nothing to refine. */
const refineMain = async (measured: FrameMeasured, path: string, metadata: FileMetadata): Promise<FrameMeasured> => {
  const index = measured.subjects.findIndex(({ isMain }) => isMain);
  const { widthPx: width, heightPx: height } = metadata;
  const subject = measured.subjects[index];
  if (subject === undefined || width === undefined || height === undefined || metadata.media !== 'jpeg') {
    return { ...measured, tier: 'full' };
  }
  const grey = await decodeRegion(path, metadata, rectOf(subject.box, { width, height }));
  return refineSharpness(measured, index, { grey, scalePx: Math.max(width, height) });
};
