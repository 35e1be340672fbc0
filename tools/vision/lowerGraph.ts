/**
 * Lowers the SSDLite graph to ONNX. Inside, everything is NCHW; the only transpositions are after the input and before
 * a predictor's Reshape. Constant multiplications and additions after a convolution are folded into its weights, so
 * that per-channel uint8 weights (scale and least value per output channel, turned back to float when the session is
 * made) lose nothing to the folding. Only the operations this model has are known; another one is an error.
 */
import { type NamedShape, node, tensor } from './onnxWriter.js';
import {
  type Constant,
  floatAttribute,
  inputName,
  integersAttribute,
  type SourceGraph,
  type SourceNode,
  textAttribute,
} from './tfjsGraph.js';

/** Weights shorter than this stay float: quantising them saves nothing. */
const QUANTISE_FROM = 256;

interface ConvolutionParts {
  readonly kind: 'convolution';
  readonly input: string;
  /** OIHW, changed in place by folding. */
  readonly weights: Float32Array;
  readonly shape: readonly [number, number, number, number];
  readonly bias: Float32Array;
  readonly attributes: Readonly<Record<string, number | readonly number[] | string>>;
}

export interface Lowered {
  readonly nodes: Buffer[];
  readonly tensors: Buffer[];
}

export class Lowering {
  readonly nodes: Buffer[] = [];
  readonly tensors: Buffer[] = [];
  /** Convolutions not yet written: a following Mul or Add may still be folded in. */
  readonly #pending = new Map<string, ConvolutionParts>();
  readonly #written = new Set<string>();
  #count = 0;
  readonly #source: SourceGraph;
  readonly #input: NamedShape;
  readonly #uses: ReadonlyMap<string, number>;

  constructor(source: SourceGraph, input: NamedShape, outputs: readonly string[]) {
    this.#source = source;
    this.#input = input;
    this.#uses = countUses(source, input.name, outputs);
    this.#emit('Transpose', [input.name], `${input.name}/nchw`, { perm: [0, 3, 1, 2] });
    this.#emitScalar('zero', 0);
    this.#emitScalar('six', 6);
  }

  /** Writes everything `name` needs and returns the tensor that holds it (NCHW where it is a picture). */
  lower(name: string): string {
    if (name === this.#input.name) return `${name}/nchw`;
    if (!this.#written.has(name)) {
      this.#written.add(name);
      this.#lowerNode(this.#nodeOf(name));
    }
    this.#flush(name);
    return name;
  }

  #nodeOf(name: string): SourceNode {
    const found = this.#source.nodes.get(name);
    if (!found) throw new Error(`Expected a node ${name} in the source graph but there is none.`);
    return found;
  }

  #lowerNode(source: SourceNode): void {
    const [first = '', second = ''] = (source.input ?? []).map(inputName);
    switch (source.op) {
      case 'Conv2D':
      case 'DepthwiseConv2dNative':
        this.#pending.set(source.name, this.#convolution(source, first, second));
        return;
      case 'Mul':
        this.#fold(source, first, this.#constant(second), multiplyChannels);
        return;
      case 'BiasAdd':
        this.#fold(source, first, this.#constant(second), addChannels);
        return;
      case 'FusedBatchNorm':
        this.#foldBatchNorm(source);
        return;
      case 'Add':
      case 'AddN':
        this.#add(source);
        return;
      case 'Relu6':
        this.#emit('Clip', [this.lower(first), 'zero', 'six'], source.name);
        return;
      case 'Sigmoid':
        this.#emit('Sigmoid', [this.lower(first)], source.name);
        return;
      case 'Reshape':
        this.#reshape(source, first, second);
        return;
      case 'Squeeze':
        this.#reshapeTo(this.lower(first), source.name, [1, -1, 4]);
        return;
      case 'ConcatV2':
        this.#emit(
          'Concat',
          (source.input ?? []).slice(0, -1).map((each) => this.lower(inputName(each))),
          source.name,
          { axis: 1 },
        );
        return;
      default:
        throw new Error(
          `The graph holds the operation ${source.op} (${source.name}), which this converter does not know.`,
        );
    }
  }

  #convolution(source: SourceNode, input: string, weightsName: string): ConvolutionParts {
    const isDepthwise = source.op === 'DepthwiseConv2dNative';
    const weights = this.#constant(weightsName);
    const { shape, data } = isDepthwise ? depthwiseWeights(weights) : denseWeights(weights);
    return {
      kind: 'convolution',
      input,
      weights: data,
      shape,
      bias: new Float32Array(shape[0]),
      attributes: {
        strides: integersAttribute(source, 'strides').slice(1, 3),
        kernel_shape: [shape[2], shape[3]],
        group: isDepthwise ? shape[0] : 1,
        auto_pad: textAttribute(source, 'padding') === 'SAME' ? 'SAME_UPPER' : 'VALID',
      },
    };
  }

  /** Moves a waiting convolution on to the folded operation's name. */
  #fold(
    source: SourceNode,
    from: string,
    by: Constant,
    change: (parts: ConvolutionParts, values: Float32Array) => void,
  ): void {
    const parts = this.#waiting(from);
    if (!parts)
      throw new Error(`Expected ${source.name} (${source.op}) to follow a convolution of its own; got ${from}.`);
    change(parts, Float32Array.from(by.data));
    this.#pending.delete(from);
    this.#pending.set(source.name, parts);
  }

  #waiting(name: string): ConvolutionParts | undefined {
    if (this.#uses.get(name) !== 1) return undefined;
    if (!this.#written.has(name) && this.#source.nodes.has(name)) {
      this.#written.add(name);
      this.#lowerNode(this.#nodeOf(name));
    }
    return this.#pending.get(name);
  }

  #foldBatchNorm(source: SourceNode): void {
    const [from = '', ...names] = (source.input ?? []).map(inputName);
    const [gamma, beta, mean, variance] = names.map((name) => this.#constant(name).data);
    const epsilon = floatAttribute(source, 'epsilon') ?? 1e-3;
    const scale = Float32Array.from(gamma!, (value, channel) => value / Math.sqrt(variance![channel]! + epsilon));
    const shift = Float32Array.from(beta!, (value, channel) => value - mean![channel]! * scale[channel]!);
    const shape = [scale.length];
    this.#fold(source, from, { shape, data: scale }, (parts, values) => {
      multiplyChannels(parts, values);
      addChannels(parts, shift);
    });
  }

  #add(source: SourceNode): void {
    const names = (source.input ?? []).map(inputName);
    const [first = '', second = ''] = names;
    const constantName = [first, second].find((name) => this.#findConstant(name));
    if (constantName === undefined) {
      const [a = '', b = ''] = names.map((name) => this.lower(name));
      this.#emit('Add', [a, b], source.name);
      return;
    }
    const other = first === constantName ? second : first;
    const constant = this.#constant(constantName);
    if (this.#waiting(other)) {
      this.#fold(source, other, constant, addChannels);
      return;
    }
    const shape = [1, constant.data.length, 1, 1];
    this.tensors.push(tensor(`${source.name}/c`, shape, Float32Array.from(constant.data)));
    this.#emit('Add', [this.lower(other), `${source.name}/c`], source.name);
  }

  /** Predictors: NCHW → NHWC, then [1, anchors, values]; the last size is the Pack's last constant. */
  #reshape(source: SourceNode, from: string, shapeName: string): void {
    const pack = this.#nodeOf(shapeName);
    const sizes = (pack.input ?? []).slice(1).map((each) => this.#constant(inputName(each)).data[0]!);
    const upright = `${source.name}/nhwc`;
    this.#emit('Transpose', [this.lower(from)], upright, { perm: [0, 2, 3, 1] });
    this.#reshapeTo(upright, source.name, [1, ...sizes]);
  }

  #reshapeTo(from: string, name: string, sizes: readonly number[]): void {
    this.tensors.push(tensor(`${name}/shape`, [sizes.length], BigInt64Array.from(sizes.map(BigInt))));
    this.#emit('Reshape', [from, `${name}/shape`], name);
  }

  #flush(name: string): void {
    const parts = this.#pending.get(name);
    if (!parts) return;
    this.#pending.delete(name);
    const input = this.lower(parts.input);
    this.#count += 1;
    const weights = this.#weights(`w${this.#count}`, parts.shape, parts.weights);
    this.tensors.push(tensor(`b${this.#count}`, [parts.shape[0]], parts.bias));
    this.#emit('Conv', [input, weights, `b${this.#count}`], name, parts.attributes);
  }

  #weights(name: string, shape: readonly [number, number, number, number], data: Float32Array): string {
    if (data.length < QUANTISE_FROM) {
      this.tensors.push(tensor(name, shape, data));
      return name;
    }
    const { codes, step, least } = quantisePerChannel(data, shape[0]);
    const perChannel = [shape[0], 1, 1, 1];
    this.tensors.push(tensor(`${name}/u8`, shape, codes));
    this.tensors.push(tensor(`${name}/step`, perChannel, step), tensor(`${name}/least`, perChannel, least));
    this.#emit('Cast', [`${name}/u8`], `${name}/float`, { to: 1 });
    this.#emit('Mul', [`${name}/float`, `${name}/step`], `${name}/scaled`);
    this.#emit('Add', [`${name}/scaled`, `${name}/least`], name);
    return name;
  }

  #emit(operation: string, inputs: readonly string[], output: string, attributes = {}): void {
    this.nodes.push(node(operation, inputs, output, attributes));
  }

  #emitScalar(name: string, value: number): void {
    this.tensors.push(tensor(name, [], Float32Array.of(value)));
  }

  #findConstant(name: string): Constant | undefined {
    const source = this.#source.nodes.get(name);
    if (source?.op === 'Identity') return this.#findConstant(inputName(source.input![0]!));
    return this.#source.constants.get(name);
  }

  #constant(name: string): Constant {
    const found = this.#findConstant(name);
    if (!found) throw new Error(`Expected ${name} to be a constant but it is computed.`);
    return found;
  }
}

function countUses(source: SourceGraph, input: string, outputs: readonly string[]): Map<string, number> {
  const uses = new Map<string, number>(outputs.map((name) => [name, 1]));
  const seen = new Set<string>([input]);
  const visit = (name: string): void => {
    if (seen.has(name)) return;
    seen.add(name);
    for (const each of (source.nodes.get(name)?.input ?? []).map(inputName)) {
      // A Shape only reads the size, which is fixed here.
      if (source.nodes.get(name)?.op !== 'Shape') uses.set(each, (uses.get(each) ?? 0) + 1);
      visit(each);
    }
  };
  for (const name of outputs) visit(name);
  return uses;
}

const multiplyChannels = (parts: ConvolutionParts, factors: Float32Array): void => {
  const perChannel = parts.weights.length / parts.shape[0];
  for (let index = 0; index < parts.weights.length; index += 1) {
    parts.weights[index]! *= factors[Math.floor(index / perChannel) % factors.length]!;
  }
  for (let channel = 0; channel < parts.bias.length; channel += 1) {
    parts.bias[channel]! *= factors[channel % factors.length]!;
  }
};

const addChannels = (parts: ConvolutionParts, terms: Float32Array): void => {
  for (let channel = 0; channel < parts.bias.length; channel += 1) {
    parts.bias[channel]! += terms[channel % terms.length]!;
  }
};

interface Weights {
  readonly shape: readonly [number, number, number, number];
  readonly data: Float32Array;
}

/** HWIO → OIHW. */
function denseWeights({ shape, data }: Constant): Weights {
  const [height = 1, width = 1, inputs = 1, outputs = 1] = shape;
  const turned = new Float32Array(data.length);
  let from = 0;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      for (let input = 0; input < inputs; input += 1) {
        for (let output = 0; output < outputs; output += 1, from += 1) {
          turned[((output * inputs + input) * height + y) * width + x] = data[from]!;
        }
      }
    }
  }
  return { shape: [outputs, inputs, height, width], data: turned };
}

/** HWC1 → C1HW. */
function depthwiseWeights({ shape, data }: Constant): Weights {
  const [height = 1, width = 1, channels = 1, multiplier = 1] = shape;
  if (multiplier !== 1) throw new Error(`Expected a depth multiplier of 1 but got ${multiplier}.`);
  const turned = new Float32Array(data.length);
  for (let place = 0; place < height * width; place += 1) {
    for (let channel = 0; channel < channels; channel += 1) {
      turned[channel * height * width + place] = data[place * channels + channel]!;
    }
  }
  return { shape: [channels, 1, height, width], data: turned };
}

/** Affine uint8 per output channel: value ≈ code × step + least. */
export function quantisePerChannel(data: Float32Array, channels: number) {
  const perChannel = data.length / channels;
  const codes = new Uint8Array(data.length);
  const step = new Float32Array(channels);
  const least = new Float32Array(channels);
  for (let channel = 0; channel < channels; channel += 1) {
    const values = data.subarray(channel * perChannel, (channel + 1) * perChannel);
    least[channel] = values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
    const most = values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
    step[channel] = (most - least[channel]!) / 255 || 1e-8;
    for (let index = 0; index < perChannel; index += 1) {
      codes[channel * perChannel + index] = Math.round((values[index]! - least[channel]!) / step[channel]!);
    }
  }
  return { codes, step, least };
}
