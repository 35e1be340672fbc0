/**
 * Writes an ONNX model file (protobuf wire format), only the messages the detector's conversion needs.
 * Field numbers from onnx/onnx.proto3 of ONNX 1.14 (IR version 8, opset 13).
 */

const LENGTH_DELIMITED = 2;

function varint(value: number | bigint): Buffer {
  let rest = BigInt.asUintN(64, BigInt(value));
  const bytes: number[] = [];
  while (rest > 127n) {
    bytes.push(Number(rest & 127n) | 128);
    rest >>= 7n;
  }
  bytes.push(Number(rest));
  return Buffer.from(bytes);
}

const tag = (field: number, wire: number): Buffer => varint((field << 3) | wire);
const integer = (field: number, value: number | bigint): Buffer => Buffer.concat([tag(field, 0), varint(value)]);
const bytes = (field: number, value: Buffer | string): Buffer => {
  const body = typeof value === 'string' ? Buffer.from(value) : value;
  return Buffer.concat([tag(field, LENGTH_DELIMITED), varint(body.length), body]);
};

export type Attribute = number | readonly number[] | string;

/** AttributeProto: name 1, integer 3, string 4, integers 8, type 20 (2 INT, 3 STRING, 7 INTS). */
function attribute(name: string, value: Attribute): Buffer {
  if (typeof value === 'string') return Buffer.concat([bytes(1, name), bytes(4, value), integer(20, 3)]);
  if (typeof value === 'number') return Buffer.concat([bytes(1, name), integer(3, value), integer(20, 2)]);
  return Buffer.concat([bytes(1, name), ...value.map((each) => integer(8, each)), integer(20, 7)]);
}

/** NodeProto: input 1, output 2, name 3, op_type 4, attribute 5. */
export function node(
  operation: string,
  inputs: readonly string[],
  output: string,
  attributes: Readonly<Record<string, Attribute>> = {},
): Buffer {
  return Buffer.concat([
    ...inputs.map((name) => bytes(1, name)),
    bytes(2, output),
    bytes(3, `${output}/node`),
    bytes(4, operation),
    ...Object.entries(attributes).map(([name, value]) => bytes(5, attribute(name, value))),
  ]);
}

export type TensorData = Float32Array | Uint8Array | BigInt64Array;

/** TensorProto data types: 1 float, 2 uint8, 7 int64. */
const dataType = (data: TensorData): number =>
  data instanceof Float32Array ? 1 : data instanceof BigInt64Array ? 7 : 2;

/** TensorProto: dims 1, data_type 2, name 8, raw_data 9 (little-endian, as every machine this runs on). */
export function tensor(name: string, shape: readonly number[], data: TensorData): Buffer {
  const raw = Buffer.from(data.buffer, data.byteOffset, data.byteLength);
  return Buffer.concat([
    ...shape.map((size) => integer(1, size)),
    integer(2, dataType(data)),
    bytes(8, name),
    bytes(9, raw),
  ]);
}

export interface NamedShape {
  readonly name: string;
  readonly shape: readonly number[];
}

/** ValueInfoProto of a float tensor: name 1, type 2 → tensor_type 1 → elem_type 1, shape 2 → dim 1 → dim_value 1. */
function valueInfo({ name, shape }: NamedShape): Buffer {
  const dimensions = Buffer.concat(shape.map((size) => bytes(1, integer(1, size))));
  return Buffer.concat([bytes(1, name), bytes(2, bytes(1, Buffer.concat([integer(1, 1), bytes(2, dimensions)])))]);
}

export interface Graph {
  readonly name: string;
  readonly nodes: readonly Buffer[];
  readonly tensors: readonly Buffer[];
  readonly inputs: readonly NamedShape[];
  readonly outputs: readonly NamedShape[];
}

/** ModelProto: ir_version 1, producer 2, graph 7, opset_import 8. */
export function model(graph: Graph, producer: string): Buffer {
  const body = Buffer.concat([
    ...graph.nodes.map((each) => bytes(1, each)),
    bytes(2, graph.name),
    ...graph.tensors.map((each) => bytes(5, each)),
    ...graph.inputs.map((each) => bytes(11, valueInfo(each))),
    ...graph.outputs.map((each) => bytes(12, valueInfo(each))),
  ]);
  const opset = Buffer.concat([bytes(1, ''), integer(2, 13)]);
  return Buffer.concat([integer(1, 8), bytes(2, producer), bytes(7, body), bytes(8, opset)]);
}
