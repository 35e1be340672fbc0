/**
 * Directory hashes of ASC MHL (specification 1.0, "Directory hashes").
 * Content: hash of the children's hash *bytes*, hashes sorted as text. Structure: the same of hashes of each child's
 * name (UTF-8) followed by its bytes, so that a renamed file shows in one and not in the other.
 */
import { digestOfC4 } from './c4.js';
import type { HashKind } from './manifestTypes.js';

export type HashBytes = (bytes: Uint8Array) => string;

export interface DirectoryHash {
  /** Empty for the root. */
  readonly path: string;
  readonly content: string;
  readonly structure: string;
}

interface Node {
  readonly files: { readonly name: string; readonly value: string }[];
  readonly folders: Map<string, Node>;
}

/** Hashes of every directory, the root last. `files` must be all files of the tree, hashed by one kind. */
export function directoryHashes(
  files: readonly { readonly path: string; readonly value: string }[],
  kind: HashKind,
  hashBytes: HashBytes,
): readonly DirectoryHash[] {
  const found: DirectoryHash[] = [];
  hashNode('', treeOf(files), found, kind, hashBytes);
  return found;
}

function treeOf(files: readonly { readonly path: string; readonly value: string }[]): Node {
  const root: Node = { files: [], folders: new Map() };
  for (const { path, value } of files) {
    const parts = path.split('/');
    const name = parts.pop()!;
    parts.reduce(childOf, root).files.push({ name, value });
  }
  return root;
}

function childOf(node: Node, name: string): Node {
  const known = node.folders.get(name);
  if (known) return known;
  const made: Node = { files: [], folders: new Map() };
  node.folders.set(name, made);
  return made;
}

function hashNode(
  path: string,
  node: Node,
  found: DirectoryHash[],
  kind: HashKind,
  hashBytes: HashBytes,
): DirectoryHash {
  const contents = node.files.map((file) => file.value);
  const structures = node.files.map((file) => hashBytes(join([utf8(file.name), bytesOf(file.value, kind)])));
  for (const [name, child] of [...node.folders].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const hashed = hashNode(path === '' ? name : `${path}/${name}`, child, found, kind, hashBytes);
    contents.push(hashed.content);
    structures.push(hashBytes(join([utf8(name), bytesOf(hashed.structure, kind)])));
  }
  const own = {
    path,
    content: hashOfList(contents, kind, hashBytes),
    structure: hashOfList(structures, kind, hashBytes),
  };
  found.push(own);
  return own;
}

const hashOfList = (values: readonly string[], kind: HashKind, hashBytes: HashBytes): string =>
  hashBytes(join([...values].sort().map((value) => bytesOf(value, kind))));

/** The bytes a hash's text stands for. */
function bytesOf(value: string, kind: HashKind): Uint8Array {
  if (kind === 'c4') return digestOfC4(value);
  return Uint8Array.from({ length: value.length / 2 }, (_, index) =>
    Number.parseInt(value.slice(2 * index, 2 * index + 2), 16),
  );
}

function join(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** UTF-8 by hand: core knows no TextEncoder. Lone surrogates become U+FFFD as the Encoding standard has it. */
function utf8(text: string): Uint8Array {
  const bytes: number[] = [];
  for (const character of text) {
    const raw = character.codePointAt(0)!;
    const code = raw >= 0xd800 && raw <= 0xdfff ? 0xfffd : raw;
    if (code < 0x80) bytes.push(code);
    else if (code < 0x800) bytes.push(0xc0 | (code >> 6), 0x80 | (code & 63));
    else if (code < 0x10000) bytes.push(0xe0 | (code >> 12), 0x80 | ((code >> 6) & 63), 0x80 | (code & 63));
    else bytes.push(0xf0 | (code >> 18), 0x80 | ((code >> 12) & 63), 0x80 | ((code >> 6) & 63), 0x80 | (code & 63));
  }
  return Uint8Array.from(bytes);
}
