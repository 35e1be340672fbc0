/** Reads a TensorFlow.js graph model: `model.json` with its topology, and the weight shards beside it. */
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

export interface SourceNode {
  readonly name: string;
  readonly op: string;
  readonly input?: readonly string[];
  readonly attr?: Readonly<Record<string, unknown>>;
}

export interface Constant {
  readonly shape: readonly number[];
  readonly data: Float32Array | Int32Array;
}

export interface SourceGraph {
  readonly nodes: ReadonlyMap<string, SourceNode>;
  readonly constants: ReadonlyMap<string, Constant>;
}

interface ModelFile {
  readonly modelTopology: { readonly node: readonly SourceNode[] };
  readonly weightsManifest: readonly {
    readonly paths: readonly string[];
    readonly weights: readonly { readonly name: string; readonly shape: readonly number[]; readonly dtype: string }[];
  }[];
}

export function readSourceGraph(modelJson: string): SourceGraph {
  const file = JSON.parse(readFileSync(modelJson, 'utf8')) as ModelFile;
  const constants = new Map<string, Constant>();
  for (const group of file.weightsManifest) {
    const shards = group.paths.map((path) => readFileSync(join(dirname(modelJson), path)));
    const bytes = Uint8Array.from(Buffer.concat(shards)).buffer;
    let offset = 0;
    for (const { name, shape, dtype } of group.weights) {
      const count = shape.reduce((product, size) => product * size, 1);
      if (dtype !== 'float32' && dtype !== 'int32') {
        throw new Error(`Expected float32 or int32 weights but ${name} is ${dtype}; extend readSourceGraph.`);
      }
      const data = dtype === 'int32' ? new Int32Array(bytes, offset, count) : new Float32Array(bytes, offset, count);
      constants.set(name, { shape, data });
      offset += 4 * count;
    }
  }
  return { nodes: new Map(file.modelTopology.node.map((node) => [node.name, node])), constants };
}

/** TensorFlow.js writes byte strings either as base64 or as an array of character codes. */
export function textAttribute(node: SourceNode, key: string): string {
  const raw = (node.attr?.[key] as { s?: string | number[] } | undefined)?.s;
  if (raw === undefined) throw new Error(`Expected attribute ${key} on ${node.name} (${node.op}) but it has none.`);
  return typeof raw === 'string' ? Buffer.from(raw, 'base64').toString() : Buffer.from(raw).toString();
}

export function integersAttribute(node: SourceNode, key: string): number[] {
  const list = (node.attr?.[key] as { list?: { i?: (string | number)[] } } | undefined)?.list?.i;
  return (list ?? []).map(Number);
}

export const floatAttribute = (node: SourceNode, key: string): number | undefined =>
  (node.attr?.[key] as { f?: number } | undefined)?.f;

/** `name:0` → `name`; control inputs (`^name`) keep no meaning here. */
export const inputName = (input: string): string => input.replace(/^\^/, '').split(':')[0]!;
