import { InferenceSession, Tensor } from 'onnxruntime-node';
import { describe, expect, it } from 'vitest';
import { Lowering, quantisePerChannel } from './lowerGraph.js';
import { model } from './onnxWriter.js';
import type { Constant, SourceGraph, SourceNode } from './tfjsGraph.js';

const values = (count: number, seed: number) =>
  Float32Array.from({ length: count }, (_, index) => Math.sin(seed + 1.7 * index) * 0.8);

const constant = (shape: readonly number[], seed: number): Constant => ({
  shape,
  data: values(
    shape.reduce((product, size) => product * size, 1),
    seed,
  ),
});

const attributes = (stride: number) => ({
  strides: { list: { i: ['1', String(stride), String(stride), '1'] } },
  padding: { s: Buffer.from('SAME').toString('base64') },
});

/** Two layers as the detector has them: convolution and shift; depthwise convolution, factor and shift; a clip after each. */
const nodes: readonly SourceNode[] = [
  { name: 'conv', op: 'Conv2D', input: ['in', 'w'], attr: attributes(2) },
  { name: 'shifted', op: 'Add', input: ['conv', 'shift'] },
  { name: 'clipped', op: 'Relu6', input: ['shifted'] },
  { name: 'deep', op: 'DepthwiseConv2dNative', input: ['clipped', 'dw'], attr: attributes(1) },
  { name: 'scaled', op: 'Mul', input: ['deep', 'factor'] },
  { name: 'moved', op: 'Add', input: ['scaled', 'move'] },
  { name: 'out', op: 'Relu6', input: ['moved'] },
];
const constants = {
  w: constant([3, 3, 2, 4], 1),
  shift: constant([4], 2),
  dw: constant([3, 3, 4, 1], 3),
  factor: constant([4], 4),
  move: constant([4], 5),
};
const source: SourceGraph = {
  nodes: new Map(nodes.map((each) => [each.name, each])),
  constants: new Map(Object.entries(constants)),
};

const SIZE = 7;

/** The same by the definition of TensorFlow's SAME convolution, layer by layer, NHWC. */
function byDefinition(input: Float32Array): number[] {
  const clip = (value: number) => Math.min(6, Math.max(0, value));
  const half = Math.ceil(SIZE / 2);
  const padding = Math.floor(((half - 1) * 2 + 3 - SIZE) / 2);
  const first = layer(half, 4, (y, x, channel) => {
    let sum = constants.shift.data[channel]!;
    forTaps((ky, kx) => {
      const [row, column] = [2 * y + ky - padding, 2 * x + kx - padding];
      if (row < 0 || column < 0 || row >= SIZE || column >= SIZE) return;
      for (let from = 0; from < 2; from += 1) {
        sum += input[(row * SIZE + column) * 2 + from]! * constants.w.data[((ky * 3 + kx) * 2 + from) * 4 + channel]!;
      }
    });
    return clip(sum);
  });
  return layer(half, 4, (y, x, channel) => {
    let sum = 0;
    forTaps((ky, kx) => {
      const [row, column] = [y + ky - 1, x + kx - 1];
      if (row < 0 || column < 0 || row >= half || column >= half) return;
      sum += first[(row * half + column) * 4 + channel]! * constants.dw.data[(ky * 3 + kx) * 4 + channel]!;
    });
    return clip(sum * constants.factor.data[channel]! + constants.move.data[channel]!);
  });
}

function layer(size: number, channels: number, at: (y: number, x: number, channel: number) => number): number[] {
  return Array.from({ length: size * size * channels }, (_, index) => {
    const place = Math.floor(index / channels);
    return at(Math.floor(place / size), place % size, index % channels);
  });
}

function forTaps(visit: (ky: number, kx: number) => void): void {
  for (let ky = 0; ky < 3; ky += 1) for (let kx = 0; kx < 3; kx += 1) visit(ky, kx);
}

describe('the conversion to ONNX', () => {
  it('computes what the source graph computes, with factors and shifts folded into the convolutions', async () => {
    const input = { name: 'in', shape: [1, SIZE, SIZE, 2] };
    const lowering = new Lowering(source, input, ['out']);
    const output = lowering.lower('out');
    const half = Math.ceil(SIZE / 2);
    const bytes = model(
      {
        name: 'two-layers',
        nodes: lowering.nodes,
        tensors: lowering.tensors,
        inputs: [input],
        outputs: [{ name: output, shape: [1, 4, half, half] }],
      },
      'test',
    );
    const session = await InferenceSession.create(bytes, {
      intraOpNumThreads: 1,
      interOpNumThreads: 1,
      executionMode: 'sequential',
      graphOptimizationLevel: 'all',
    });
    const picture = values(SIZE * SIZE * 2, 9);
    const { data } = (await session.run({ in: new Tensor('float32', picture, [1, SIZE, SIZE, 2]) }))[output]!;
    const expected = byDefinition(picture);
    expect(expected).toHaveLength(data.length);
    expect(expected.some((value) => value > 0.1)).toBe(true);
    for (const [index, value] of expected.entries()) {
      const [place, channel] = [Math.floor(index / 4), index % 4];
      expect(Math.abs(data[channel * half * half + place]! - value)).toBeLessThan(1e-5);
    }
    await session.release();
  });

  it('names an operation it does not know', () => {
    const strange: SourceGraph = {
      nodes: new Map([['out', { name: 'out', op: 'Erf', input: ['in'] }]]),
      constants: new Map(),
    };
    const lowering = new Lowering(strange, { name: 'in', shape: [1, 1, 1, 1] }, ['out']);
    expect(() => lowering.lower('out')).toThrow(
      'The graph holds the operation Erf (out), which this converter does not know.',
    );
  });

  it('keeps a quantised weight within half a step of its channel', () => {
    const weights = values(300, 4).map((value, index) => value * (1 + Math.floor(index / 100)));
    const { codes, step, least } = quantisePerChannel(weights, 3);
    for (const [index, value] of weights.entries()) {
      const channel = Math.floor(index / 100);
      expect(Math.abs(codes[index]! * step[channel]! + least[channel]! - value)).toBeLessThanOrEqual(
        step[channel]! * 0.5001,
      );
    }
  });
});
