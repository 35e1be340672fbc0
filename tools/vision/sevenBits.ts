/**
 * Rounds the large uint8 weights of a model's file to seven bits, which takes a tenth off the packed file:
 *
 *     npx tsx tools/vision/sevenBits.ts ssdlite-mobilenetv2-u8.onnx bike-u8.onnx
 *
 * Each weight is `code · step + least`, with step and least per output channel in the two tensors after the codes. Halving
 * the code, doubling the step and adding half a step to the least moves every weight by half a step, up or down. Tensors
 * under 20,000 weights keep their eight bits: there is nothing to be had in them. Done once to each file: a second time
 * would take another bit, so a file whose large codes all lie under 128 is refused.
 *
 * Fields read (onnx/onnx.proto3, ONNX 1.14): ModelProto.graph 7, GraphProto.initializer 5, TensorProto.data_type 2, raw_data 9.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const LEAST_WEIGHTS = 20_000;
const UINT8 = 2;

function varint(bytes: Buffer, at: number): readonly [value: number, next: number] {
  let value = 0;
  for (let shift = 0, i = at; ; shift += 7, i++) {
    value += (bytes[i]! & 127) * 2 ** shift;
    if (bytes[i]! < 128) return [value, i + 1];
  }
}

/** Each field of a message: numbers as they are, bodies as views onto the file's bytes. */
function* fields(message: Buffer): Generator<readonly [field: number, value: number | Buffer]> {
  for (let at = 0; at < message.length; ) {
    const [key, body] = varint(message, at);
    const wire = key & 7;
    if (wire === 0) {
      const [value, next] = varint(message, body);
      yield [key >> 3, value];
      at = next;
    } else {
      const [length, start] = wire === 2 ? varint(message, body) : ([wire === 5 ? 4 : 8, body] as const);
      yield [key >> 3, message.subarray(start, start + length)];
      at = start + length;
    }
  }
}

const bodies = (message: Buffer, field: number): Buffer[] =>
  [...fields(message)].flatMap(([key, value]) => (key === field && Buffer.isBuffer(value) ? [value] : []));

const isOfCodes = (tensor: Buffer): boolean =>
  [...fields(tensor)].some(([field, value]) => field === 2 && value === UINT8);

function changeFloats(floats: Buffer, change: (value: number, channel: number) => number): void {
  for (let i = 0; i < floats.length; i += 4) floats.writeFloatLE(change(floats.readFloatLE(i), i / 4), i);
}

/** Changes the file's bytes in place; tells how many weights lost a bit. */
export function sevenBits(file: Buffer): number {
  const tensors = bodies(file, 7).flatMap((graph) => bodies(graph, 5));
  let changed = 0;
  for (const [i, tensor] of tensors.entries()) {
    const codes = bodies(tensor, 9)[0];
    if (codes === undefined || codes.length < LEAST_WEIGHTS || !isOfCodes(tensor)) continue;
    if (codes.every((code) => code < 128)) throw new Error('Expected eight-bit weights, but this file has seven bits.');
    const [step, least] = [bodies(tensors[i + 1]!, 9)[0]!, bodies(tensors[i + 2]!, 9)[0]!];
    changeFloats(least, (value, channel) => value + step.readFloatLE(4 * channel) / 2);
    changeFloats(step, (value) => value * 2);
    for (let k = 0; k < codes.length; k++) codes[k]! >>= 1;
    changed += codes.length;
  }
  return changed;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const path of process.argv.slice(2)) {
    const file = readFileSync(path);
    console.log(`${path}: ${sevenBits(file)} weights of seven bits`);
    writeFileSync(path, file);
  }
}
