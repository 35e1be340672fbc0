/** Reads ASC MHL manifests and chains, ours and others'. What is not understood is a sentence, never a guess. */
import { XMLParser } from 'fast-xml-parser';
import {
  type ChainLink,
  hashKinds,
  type Manifest,
  type ManifestDirectory,
  type ManifestFile,
  type ManifestHash,
} from '../../core/bringin/manifestTypes.js';
import type { FillId } from '../../core/ids.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { BringInError } from './errors.js';

type Xml = { readonly [name: string]: unknown };

const listed = new Set(['hash', 'directoryhash', 'hashlistreference', 'pattern', 'author']);
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '@',
  parseTagValue: false,
  parseAttributeValue: false,
  trimValues: false,
  processEntities: {
    enabled: true,
    maxTotalExpansions: Number.MAX_SAFE_INTEGER,
    maxExpandedLength: Number.MAX_SAFE_INTEGER,
  },
  // Numeric references, in which names with carriage returns are written, are read by this switch only.
  htmlEntities: true,
  removeNSPrefix: true,
  isArray: (name, path) => listed.has(name) || String(path) === 'ascmhldirectory.hashlist',
});

export function parseManifest(text: string, where: string): Manifest {
  const root = rootOf(text, 'hashlist', where);
  const creator = childOf(root, 'creatorinfo');
  const process = childOf(root, 'processinfo');
  const hashes = childOf(root, 'hashes');
  const rootHash = child(process, 'roothash');
  const fill = fillOf(root);
  return {
    created: dateOf(textOf(creator.creationdate)) ?? epochMsOf(0),
    hostname: textOf(creator.hostname),
    tool: { name: textOf(creator.tool), version: attributeOf(creator.tool, 'version') ?? '' },
    process: processOf(textOf(process.process)),
    ...(rootHash === null ? {} : { root: containersOf(rootHash) }),
    ignore: itemsOf(childOf(process, 'ignore').pattern).map(textOf),
    files: itemsOf(hashes.hash).map((item) => fileOf(item as Xml, where)),
    directories: itemsOf(hashes.directoryhash).map((item) => directoryOf(item as Xml)),
    references: itemsOf(childOf(root, 'references').hashlistreference).map((item) => linkOf(item as Xml)),
    ...(fill === undefined ? {} : { fill }),
  };
}

export function parseChain(text: string, where: string): readonly ChainLink[] {
  return itemsOf(rootOf(text, 'ascmhldirectory', where).hashlist).map((item) => ({
    ...linkOf(item as Xml),
    sequence: Number(attributeOf(item, 'sequencenr')),
  }));
}

function rootOf(text: string, name: string, where: string): Xml {
  let parsed: Xml;
  try {
    parsed = parser.parse(text) as Xml;
  } catch (cause) {
    throw new BringInError(
      `Expected an ASC MHL file at ${where} but it is not readable XML. Compare with the other disk's.`,
      where,
      cause,
    );
  }
  const root = child(parsed, name);
  if (root !== null) return root;
  throw new BringInError(
    `Expected <${name}> at the top of ${where} but found none. Compare with the other disk's.`,
    where,
  );
}

function fileOf(item: Xml, where: string): ManifestFile {
  const path = safePath(textOf(item.path), where);
  const bytes = attributeOf(item.path, 'size');
  const modified = dateOf(attributeOf(item.path, 'lastmodificationdate'));
  const notReadBack = ownText(child(item, 'metadata'), 'tyrewallNotReadBack');
  return {
    path,
    ...(bytes === undefined ? {} : { bytes: Number(bytes) }),
    ...(modified === undefined ? {} : { modified }),
    hashes: hashesOf(item),
    ...(item.previousPath === undefined ? {} : { previousPath: textOf(item.previousPath) }),
    ...(notReadBack === undefined ? {} : { notReadBack }),
  };
}

/** The standard forbids paths that lead out of the folder; one that does is a broken manifest, not a file to touch. */
function safePath(path: string, where: string): string {
  if (path !== '' && !path.startsWith('/') && !path.split('/').includes('..')) return path;
  throw new BringInError(
    `Expected a path inside its folder in ${where} but found "${path}". This manifest is not used.`,
    where,
  );
}

const directoryOf = (item: Xml): ManifestDirectory => ({ path: textOf(item.path), ...containersOf(item) });
const linkOf = (item: Xml): ChainLink => ({ path: textOf(item.path), c4: textOf(item.c4) });

function containersOf(item: Xml): Pick<ManifestDirectory, 'content' | 'structure'> {
  return { content: hashesOf(childOf(item, 'content')), structure: hashesOf(childOf(item, 'structure')) };
}

function hashesOf(item: Xml): readonly ManifestHash[] {
  return hashKinds.flatMap((kind) => (item[kind] === undefined ? [] : [hashOf(kind, item[kind])]));
}

function hashOf(kind: ManifestHash['kind'], element: unknown): ManifestHash {
  const action = attributeOf(element, 'action') as ManifestHash['action'];
  const at = dateOf(attributeOf(element, 'hashdate'));
  const text = textOf(element).trim();
  return {
    kind,
    value: kind === 'c4' ? text : text.toLowerCase(),
    ...(action === undefined ? {} : { action }),
    ...(at === undefined ? {} : { at }),
  };
}

const fillOf = (root: Xml): FillId | undefined =>
  ownText(child(root, 'metadata'), 'tyrewallFill') as FillId | undefined;

function ownText(metadata: Xml | null, name: string): string | undefined {
  return metadata?.[name] === undefined ? undefined : textOf(metadata[name]);
}

const processOf = (text: string): Manifest['process'] =>
  text === 'transfer' || text === 'flatten' ? text : 'in-place';

function dateOf(text: string | undefined): EpochMs | undefined {
  const value = text === undefined ? Number.NaN : Date.parse(text);
  return Number.isNaN(value) ? undefined : epochMsOf(value);
}

const itemsOf = (value: unknown): readonly unknown[] =>
  Array.isArray(value) ? value : value === undefined ? [] : [value];

function child(item: Xml, name: string): Xml | null {
  const value = item[name];
  return typeof value === 'object' && value !== null ? (value as Xml) : null;
}
const childOf = (item: Xml, name: string): Xml => child(item, name) ?? {};

function textOf(value: unknown): string {
  if (typeof value === 'string') return value;
  if (typeof value === 'object' && value !== null && '#text' in value) return String(value['#text']);
  return '';
}

function attributeOf(value: unknown, name: string): string | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const found = (value as Xml)[`@${name}`];
  return typeof found === 'string' ? found : undefined;
}
