/**
 * Makes one file of several models, as `src/host/vision/modelFiles.ts` reads it:
 *
 *     npx tsx tools/vision/packModels.ts models/detector-and-bike.onnx.br ssdlite-mobilenetv2-u8.onnx bike-u8.onnx
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, constants } from 'node:zlib';

export function packModels(models: ReadonlyMap<string, Uint8Array>): Buffer {
  const sizes = Object.fromEntries([...models].map(([name, bytes]) => [name, bytes.length]));
  const whole = Buffer.concat([Buffer.from(`${JSON.stringify(sizes)}\n`), ...models.values()]);
  return brotliCompressSync(whole, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
      // The last model's weights are to be found in the first, megabytes before.
      [constants.BROTLI_PARAM_LGWIN]: constants.BROTLI_MAX_WINDOW_BITS,
      [constants.BROTLI_PARAM_SIZE_HINT]: whole.length,
    },
  });
}

function main([target, ...sources]: readonly string[]): void {
  if (target === undefined || sources.length === 0) {
    throw new Error('Expected the file to make and the models to pack, e.g. models/two.onnx.br one.onnx two.onnx.');
  }
  const packed = packModels(new Map(sources.map((path) => [basename(path), readFileSync(path)])));
  writeFileSync(target, packed);
  console.log(`${target}  ${packed.length} bytes`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) main(process.argv.slice(2));
