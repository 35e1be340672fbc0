/** The detector and the bike-telling blocks in onnxruntime, one thread each: a measuring process owns one core. */
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { InferenceSession, Tensor } from 'onnxruntime-node';
import { LEAST_DETECTION_SCORE, MOST_OVERLAP } from '../../core/measure/assembleSubjects.js';
import { type Detection, decodeDetections, suppressOverlaps } from '../../core/measure/decodeDetections.js';
import type { BackboneFeatures } from '../../core/measure/describeBike.js';
import { type PixelRect, type RgbImage, resize, wholeRect } from '../../core/measure/images.js';
import { cutPart, joinLooks, partToLookAgain } from '../../core/measure/lookAgain.js';
import { VisionError } from './VisionError.js';

const DETECTOR_EDGE = 300;
const BLOCKS_EDGE = 192;
const INPUT = 'Preprocessor/sub';

/** Code value 0–255 to the −1…1 the network was trained on. */
const NETWORK_VALUE = Float32Array.from({ length: 256 }, (_, code) => code / 127.5 - 1);

export interface Vision {
  /** Bikes, people, cars and bicycles at score ≥ 0.15, overlaps suppressed; boxes 0–1. The picture must be upright. */
  detect(image: RgbImage): Promise<Detection[]>;
  /** Pooled features of a crop, for telling one bike from another. */
  describe(image: RgbImage, rect: PixelRect): Promise<BackboneFeatures>;
  close(): Promise<void>;
}

/** The nearest `models/` folder at or above this module, so that sources and a built copy find the same file. */
function modelPath(name: string): string {
  const here = dirname(fileURLToPath(import.meta.url));
  for (let folder = here; folder !== dirname(folder); folder = dirname(folder)) {
    const path = join(folder, 'models', name);
    if (existsSync(path)) return path;
  }
  throw new VisionError(
    `Expected the model models/${name} above ${here} but it is not there. Restore it from the repository, or make it again with: npx tsx tools/vision/convert-ssdlite.ts`,
  );
}

async function openModel(name: string): Promise<InferenceSession> {
  const path = modelPath(name);
  try {
    return await InferenceSession.create(await readFile(path), {
      intraOpNumThreads: 1,
      interOpNumThreads: 1,
      executionMode: 'sequential',
      graphOptimizationLevel: 'all',
    });
  } catch (cause) {
    throw new VisionError(
      `Expected ${path} to be a model that can be opened, but it is not. Restore it from the repository, or make it again with: npx tsx tools/vision/convert-ssdlite.ts`,
      { path, cause },
    );
  }
}

/** One input tensor, filled by a loop: `Float32Array.from` with a function costs as much as the inference itself. */
function fill(values: Float32Array, picture: RgbImage): Tensor {
  const { data } = picture;
  for (let index = 0; index < data.length; index += 1) values[index] = NETWORK_VALUE[data[index]!]!;
  return new Tensor('float32', values, [1, picture.height, picture.width, 3]);
}

const floats = (outputs: Readonly<Record<string, Tensor>>, name: string): Float32Array => outputs[name]!.data;

export async function openVision(): Promise<Vision> {
  const [detector, blocks] = await Promise.all([
    openModel('ssdlite-mobilenetv2-u8.onnx'),
    openModel('mobilenetv2-blocks-u8.onnx'),
  ]);
  const detectorInput = new Float32Array(DETECTOR_EDGE * DETECTOR_EDGE * 3);
  const blocksInput = new Float32Array(BLOCKS_EDGE * BLOCKS_EDGE * 3);
  const look = async (image: RgbImage) => {
    const picture = resize(image, wholeRect(image), DETECTOR_EDGE, DETECTOR_EDGE);
    const outputs = await detector.run({ [INPUT]: fill(detectorInput, picture) });
    const raw = decodeDetections(floats(outputs, 'boxes'), floats(outputs, 'scores'), LEAST_DETECTION_SCORE);
    return suppressOverlaps(raw, MOST_OVERLAP);
  };
  return {
    async detect(image) {
      const first = await look(image);
      const part = partToLookAgain(first, image);
      return part ? joinLooks(first, await look(cutPart(image, part)), part, image, MOST_OVERLAP) : first;
    },
    async describe(image, rect) {
      const picture = resize(image, rect, BLOCKS_EDGE, BLOCKS_EDGE);
      const outputs = await blocks.run({ [INPUT]: fill(blocksInput, picture) });
      return { block9: floats(outputs, 'block9'), block13: floats(outputs, 'block13') };
    },
    async close() {
      await Promise.all([detector.release(), blocks.release()]);
    },
  };
}
