/** QR codes in a picture, read by ZXing (C++ as WebAssembly). Its module lies in its package; nothing is fetched. */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { prepareZXingModule, type ReaderOptions, readBarcodes } from 'zxing-wasm/reader';
import type { RgbImage } from '../../core/measure/index.js';

const OPTIONS: ReaderOptions = {
  formats: ['QRCode'],
  tryHarder: true,
  tryRotate: false,
  tryInvert: false,
  tryDownscale: true,
  maxNumberOfSymbols: 2,
};

let prepared: Promise<unknown> | null = null;

async function prepare(): Promise<void> {
  const path = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
  const bytes = await readFile(path);
  const wasmBinary = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
  await prepareZXingModule({ overrides: { wasmBinary }, fireImmediately: true });
}

/** The texts of the codes found, whole ones only. */
export async function readQr(image: RgbImage): Promise<readonly string[]> {
  prepared ??= prepare();
  await prepared;
  const found = await readBarcodes(asImageData(image), OPTIONS);
  return found.flatMap(({ isValid, text }) => (isValid ? [text] : []));
}

/** As browsers hold pictures: with a fourth, full, channel. */
function asImageData({ data: rgb, width, height }: RgbImage): Parameters<typeof readBarcodes>[0] {
  const data = new Uint8ClampedArray(4 * width * height).fill(255);
  for (let from = 0, to = 0; from < rgb.length; from += 3, to += 4) {
    data[to] = rgb[from]!;
    data[to + 1] = rgb[from + 1]!;
    data[to + 2] = rgb[from + 2]!;
  }
  return { data, width, height, colorSpace: 'srgb' };
}
