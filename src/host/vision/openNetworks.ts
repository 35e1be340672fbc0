/** The detector, the bike network and the digit detector in onnxruntime, one thread each: a measuring process owns one core. */
import { InferenceSession, Tensor } from 'onnxruntime-node';
import type { BikeFeatures } from '../../core/measure/bikeSeen.js';
import { CELL_PX } from '../../core/measure/numbers/decodeDigits.js';
import type { DigitMaps } from '../../core/measure/numbers/index.js';
import { type ModelFile, noModel, readModel } from './modelFiles.js';
import { unpackFiles } from './packedFiles.js';

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
  const [detector, bike, digits] = await openModels();
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

const OPTIONS = {
  intraOpNumThreads: 1,
  interOpNumThreads: 1,
  executionMode: 'sequential',
  graphOptimizationLevel: 'all',
} as const;

const DETECTOR_AND_BIKE: ModelFile = {
  name: 'detector-and-bike.onnx.br',
  madeAgain: 'make it again as tools/vision/bike/README.md says',
};
const DIGITS: ModelFile = {
  name: 'numbers-u8.onnx.br',
  madeAgain: 'train it as tools/vision/numbers/README.md says',
};

async function openModels(): Promise<readonly [InferenceSession, InferenceSession, InferenceSession]> {
  const [packed, digits] = await Promise.all([readModel(DETECTOR_AND_BIKE), readModel(DIGITS)]);
  const both = unpackFiles(packed);
  return Promise.all([
    openModel(both.get('ssdlite-mobilenetv2-u8.onnx'), DETECTOR_AND_BIKE),
    openModel(both.get('bike-u8.onnx'), DETECTOR_AND_BIKE),
    openModel(digits, DIGITS),
  ]);
}

const openModel = (bytes: Buffer | undefined, file: ModelFile): Promise<InferenceSession> =>
  InferenceSession.create(bytes ?? Buffer.of(), OPTIONS).catch((cause: unknown) => {
    throw noModel(file, cause);
  });
