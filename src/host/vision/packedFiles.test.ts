import { randomBytes } from 'node:crypto';
import { brotliDecompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { packFiles, unpackFiles } from './packedFiles.js';

describe('several files in one', () => {
  const weights = randomBytes(50_000);
  const first = Buffer.concat([Buffer.from('one\n'), weights, randomBytes(60_000)]);
  const second = Buffer.concat([weights, Buffer.from('two')]);

  it('come out as they went in, and what two of them hold is kept once', () => {
    const packed = packFiles(
      new Map([
        ['first.onnx', first],
        ['second.onnx', second],
      ]),
    );
    expect(packed.length).toBeLessThan(first.length + 1000);
    const files = unpackFiles(brotliDecompressSync(packed));
    expect([...files.keys()]).toEqual(['first.onnx', 'second.onnx']);
    expect(files.get('first.onnx')!.equals(first)).toBe(true);
    expect(files.get('second.onnx')!.equals(second)).toBe(true);
  });
});
