import { randomBytes } from 'node:crypto';
import { brotliDecompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { unpackModels } from '../../src/host/vision/modelFiles.js';
import { packModels } from './packModels.js';

describe('models in one file', () => {
  const weights = randomBytes(50_000);
  const first = Buffer.concat([Buffer.from('one\n'), weights, randomBytes(60_000)]);
  const second = Buffer.concat([weights, Buffer.from('two')]);

  it('come out as they went in, and weights that two of them hold are kept once', () => {
    const packed = packModels(
      new Map([
        ['first.onnx', first],
        ['second.onnx', second],
      ]),
    );
    expect(packed.length).toBeLessThan(first.length + 1000);
    const models = unpackModels(brotliDecompressSync(packed));
    expect([...models.keys()]).toEqual(['first.onnx', 'second.onnx']);
    expect(models.get('first.onnx')!.equals(first)).toBe(true);
    expect(models.get('second.onnx')!.equals(second)).toBe(true);
  });
});
