/** QR codes in a picture, read by ZXing (C++ as WebAssembly). Its module lies in its package; nothing is fetched. */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { type Position, prepareZXingModule, type ReaderOptions, readBarcodes } from 'zxing-wasm/reader';
import type { SeenCode } from '../../core/measure/cards/types.js';
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

/** The codes found, whole ones only. */
export async function readQr(image: RgbImage): Promise<readonly SeenCode[]> {
  prepared ??= prepare();
  await prepared;
  const found = await readBarcodes(asImageData(image), OPTIONS);
  return found.filter(({ isValid }) => isValid).map(({ text, position }) => ({ text, at: middleOf(position, image) }));
}

function middleOf(
  { topLeft, topRight, bottomRight, bottomLeft }: Position,
  { width, height }: RgbImage,
): SeenCode['at'] {
  const corners = [topLeft, topRight, bottomRight, bottomLeft];
  const mean = (of: (corner: (typeof corners)[number]) => number) =>
    corners.reduce((sum, corner) => sum + of(corner), 0) / corners.length;
  return { x: mean(({ x }) => x) / width, y: mean(({ y }) => y) / height };
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
