/**
 * Makes one file of several models:
 *
 *     npx tsx tools/vision/packModels.ts models/detector-and-bike.onnx.br ssdlite-mobilenetv2-u8.onnx bike-u8.onnx
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { packFiles } from '../../src/host/vision/packedFiles.js';

const [target, ...sources] = process.argv.slice(2);
if (target === undefined || sources.length === 0)
  throw new Error('Expected the file to make and the models to pack, e.g. models/two.onnx.br one.onnx two.onnx.');
const packed = packFiles(new Map(sources.map((path) => [basename(path), readFileSync(path)])));
writeFileSync(target, packed);
console.log(`${target}  ${packed.length} bytes`);
