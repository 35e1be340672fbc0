/** The detector, the bike network and the digit detector in onnxruntime, one thread each: a measuring process owns one core. */
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { brotliDecompress } from 'node:zlib';
import { InferenceSession, Tensor } from 'onnxruntime-node';
import type { BikeFeatures } from '../../core/measure/bikeSeen.js';
import { CELL_PX } from '../../core/measure/numbers/decodeDigits.js';
import type { DigitMaps } from '../../core/measure/numbers/index.js';
import { VisionError } from './VisionError.js';

export const DETECTOR_EDGE_PX = 300;
export const BIKE_EDGE_PX = 192;

/** The outputs as `decodeDetections` takes them. */
interface DetectorOutput {
  readonly boxes: Float32Array;
  readonly scores: Float32Array;
}

/** Parts: bike with rider, clothes and helmet in three planes, one after the other. */
export type BikeOutput = BikeFeatures & { readonly parts: Float32Array };

/** Pictures are red green blue interleaved, each value −1…1, where nothing else is said. They may be filled anew after the answer. */
export interface Networks {
  /** @param input 300 × 300 × 3 */
  detect(input: Float32Array): Promise<DetectorOutput>;
  /** @param input 192 × 192 × 3 */
  lookAtBike(input: Float32Array): Promise<BikeOutput>;
  /** @param planes red, green, blue, 0–255; sides are multiples of 32 */
  findDigits(planes: Float32Array, width: number, height: number): Promise<DigitMaps>;
  close(): Promise<void>;
}

export async function openNetworks(): Promise<Networks> {
  const [detector, bike, digits] = await Promise.all([
    openModel('ssdlite-mobilenetv2-u8.onnx', CONVERTED),
    openModel('bike-u8.onnx', 'teach it as tools/vision/bike/README.md says'),
    openModel('numbers-u8.onnx.br', 'train it as tools/vision/numbers/README.md says'),
  ]);
  return {
    async detect(input) {
      const outputs = await detector.run({ 'Preprocessor/sub': square(input, DETECTOR_EDGE_PX) });
      return { boxes: floats(outputs, 'boxes'), scores: floats(outputs, 'scores') };
    },
    async lookAtBike(input) {
      const outputs = await bike.run({ input: square(input, BIKE_EDGE_PX) });
      return {
        parts: floats(outputs, 'parts'),
        taught: floats(outputs, 'descriptor'),
        block9: floats(outputs, 'block9'),
        block13: floats(outputs, 'block13'),
      };
    },
    async findDigits(planes, width, height) {
      const image = new Tensor('float32', planes, [1, 3, height, width]);
      const data = floats(await digits.run({ image }), 'maps');
      return { data, columns: width / CELL_PX, rows: height / CELL_PX };
    },
    async close() {
      await Promise.all([detector.release(), bike.release(), digits.release()]);
    },
  };
}

const square = (values: Float32Array, edge: number) => new Tensor('float32', values, [1, edge, edge, 3]);

const floats = (outputs: Readonly<Record<string, Tensor>>, name: string): Float32Array => outputs[name]!.data;

const CONVERTED = 'make it again with: npx tsx tools/vision/convert-ssdlite.ts';

const decompress = promisify(brotliDecompress);

const OPTIONS = {
  intraOpNumThreads: 1,
  interOpNumThreads: 1,
  executionMode: 'sequential',
  graphOptimizationLevel: 'all',
} as const;

/** @param madeAgain how, where the repository's is lost */
async function openModel(name: string, madeAgain: string): Promise<InferenceSession> {
  const path = modelPath(name, madeAgain);
  try {
    // A file on its own is kept compressed; one that points into another file must be opened by its path.
    return path.endsWith('.br')
      ? await InferenceSession.create(await decompress(await readFile(path)), OPTIONS)
      : await InferenceSession.create(path, OPTIONS);
  } catch (cause) {
    throw new VisionError(
      `Expected ${path} to be a model that can be opened, but it is not. Restore it from the repository, or ${madeAgain}`,
      { path, cause },
    );
  }
}

/** The nearest `models/` folder at or above this module, so that sources and a built copy find the same file. */
function modelPath(name: string, madeAgain: string): string {
  const here = dirname(fileURLToPath(import.meta.url));
  for (let folder = here; folder !== dirname(folder); folder = dirname(folder)) {
    const path = join(folder, 'models', name);
    if (existsSync(path)) return path;
  }
  throw new VisionError(
    `Expected the model models/${name} above ${here} but it is not there. Restore it from the repository, or ${madeAgain}`,
  );
}
