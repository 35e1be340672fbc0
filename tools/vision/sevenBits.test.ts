import { InferenceSession, Tensor } from 'onnxruntime-node';
import { describe, expect, it } from 'vitest';
import { model, node, tensor } from './onnxWriter.js';
import { sevenBits } from './sevenBits.js';

const CHANNELS = 4;
const EACH = 5500;
const STEPS = [0.5, 0.25, 1, 2];
const ONE_THREAD = {
  intraOpNumThreads: 1,
  interOpNumThreads: 1,
  executionMode: 'sequential',
  graphOptimizationLevel: 'disabled',
} as const;

/** A model that says its own weights, laid as the kept models lay theirs. */
function fileOf(codes: Uint8Array): Buffer {
  const shape = [CHANNELS, codes.length / CHANNELS];
  return model(
    {
      name: 'weights',
      nodes: [
        node('Cast', ['w/u8'], 'w/float', { to: 1 }),
        node('Mul', ['w/float', 'w/step'], 'w/wide'),
        node('Add', ['w/wide', 'w/least'], 'w'),
        node('Add', ['w', 'in'], 'out'),
      ],
      tensors: [
        tensor('w/u8', shape, codes),
        tensor('w/step', [CHANNELS, 1], Float32Array.from(STEPS)),
        tensor('w/least', [CHANNELS, 1], Float32Array.from([-64, -32, 0, 7])),
      ],
      inputs: [{ name: 'in', shape }],
      outputs: [{ name: 'out', shape }],
    },
    'test',
  );
}

async function weightsOf(file: Buffer): Promise<Float32Array> {
  const session = await InferenceSession.create(file, ONE_THREAD);
  const { out } = await session.run({ in: new Tensor('float32', new Float32Array(CHANNELS * EACH), [CHANNELS, EACH]) });
  return out!.data as Float32Array;
}

describe('weights of seven bits', () => {
  const codes = Uint8Array.from({ length: CHANNELS * EACH }, (_, i) => (i * 97) % 256);

  it('lie half a step from those of eight, above as often as below', async () => {
    const file = fileOf(codes);
    const before = await weightsOf(file);
    expect(sevenBits(file)).toBe(codes.length);
    const after = await weightsOf(file);
    const halves = [...after].map((weight, i) => (2 * (weight - before[i]!)) / STEPS[Math.floor(i / EACH)]!);
    expect(new Set(halves.map((half) => Math.abs(half)))).toEqual(new Set([1]));
    expect(halves.reduce((sum, half) => sum + half, 0)).toBe(0);
  });

  it('a small tensor keeps its bits, and a file that has seven is refused', () => {
    const small = fileOf(codes.slice(0, 400));
    const kept = Buffer.from(small);
    expect(sevenBits(small)).toBe(0);
    expect(small.equals(kept)).toBe(true);
    const file = fileOf(codes);
    sevenBits(file);
    expect(() => sevenBits(file)).toThrow('this file has seven');
  });
});
