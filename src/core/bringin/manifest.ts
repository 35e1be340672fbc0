/** Writes ASC MHL manifests and chains (specification 1.0, section on XML; checked against the published schemas). */
import type { EpochMs } from '../units.js';
import type { ChainLink, Manifest, ManifestDirectory, ManifestFile, ManifestHash } from './manifestTypes.js';
import { hashKinds } from './manifestTypes.js';
import { partPrefix } from './names.js';

export const manifestFolder = 'ascmhl';
export const chainName = 'ascmhl_chain.xml';
/** Namespace of what this project adds inside `metadata` elements. */
export const ownNamespace = 'urn:tyrewall:fill:1';
/** gitignore lines: the standard's defaults, and names of copies that were not finished. */
export const ignoredPatterns: readonly string[] = ['.DS_Store', 'ascmhl', 'ascmhl/', `${partPrefix}*`];

/** `0001_<folder>_YYYY-MM-DD_HHMMSSZ.mhl`, UTC. */
export function manifestName(generation: number, folder: string, at: EpochMs): string {
  const [day, time] = new Date(at).toISOString().slice(0, 19).split('T');
  return `${String(generation).padStart(4, '0')}_${folder}_${day}_${time!.replaceAll(':', '')}Z.mhl`;
}

export function manifestXml(manifest: Manifest): string {
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<hashlist version="2.0" xmlns="urn:ASC:MHL:v2.0">',
    ...creatorLines(manifest),
    ...processLines(manifest),
    ...hashesLines(manifest),
    ...(manifest.fill === undefined
      ? []
      : [
          '  <metadata>',
          `    <tyrewallFill xmlns="${ownNamespace}">${escaped(manifest.fill)}</tyrewallFill>`,
          '  </metadata>',
        ]),
    ...referenceLines(manifest.references),
    '</hashlist>',
    '',
  ].join('\n');
}

export function chainXml(links: readonly ChainLink[]): string {
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<ascmhldirectory xmlns="urn:ASC:MHL:DIRECTORY:v2.0">',
    ...links.flatMap((link, index) => [
      `  <hashlist sequencenr="${link.sequence ?? index + 1}">`,
      `    <path>${escaped(link.path)}</path>`,
      `    <c4>${escaped(link.c4)}</c4>`,
      '  </hashlist>',
    ]),
    '</ascmhldirectory>',
    '',
  ].join('\n');
}

const creatorLines = (manifest: Manifest): readonly string[] => [
  '  <creatorinfo>',
  `    <creationdate>${dateTime(manifest.created)}</creationdate>`,
  `    <hostname>${escaped(manifest.hostname)}</hostname>`,
  `    <tool version="${escaped(manifest.tool.version)}">${escaped(manifest.tool.name)}</tool>`,
  '  </creatorinfo>',
];

const processLines = (manifest: Manifest): readonly string[] => [
  '  <processinfo>',
  `    <process>${manifest.process}</process>`,
  ...(manifest.root === undefined
    ? []
    : ['    <roothash>', ...containerLines(manifest.root, '      '), '    </roothash>']),
  ...(manifest.ignore.length === 0
    ? []
    : ['    <ignore>', ...manifest.ignore.map((line) => `      <pattern>${escaped(line)}</pattern>`), '    </ignore>']),
  '  </processinfo>',
];

/** The schema refuses an empty `hashes` element, so it is left out where there is nothing to say. */
function hashesLines(manifest: Manifest): readonly string[] {
  if (manifest.files.length + manifest.directories.length === 0) return [];
  return [
    '  <hashes>',
    ...manifest.files.flatMap(fileLines),
    ...manifest.directories.flatMap(directoryLines),
    '  </hashes>',
  ];
}

const fileLines = (file: ManifestFile): readonly string[] => [
  '    <hash>',
  `      <path${attribute('size', file.bytes?.toString())}${attribute('lastmodificationdate', dateOf(file.modified))}>${escaped(file.path)}</path>`,
  ...inSchemaOrder(file.hashes).map((hash) => `      ${hashElement(hash)}`),
  ...(file.previousPath === undefined ? [] : [`      <previousPath>${escaped(file.previousPath)}</previousPath>`]),
  ...(file.notReadBack === undefined
    ? []
    : [
        `      <metadata><tyrewallNotReadBack xmlns="${ownNamespace}">${escaped(file.notReadBack)}</tyrewallNotReadBack></metadata>`,
      ]),
  '    </hash>',
];

const directoryLines = (directory: ManifestDirectory): readonly string[] => [
  '    <directoryhash>',
  `      <path>${escaped(directory.path)}</path>`,
  ...containerLines(directory, '      '),
  '    </directoryhash>',
];

const containerLines = (
  hashes: { readonly content: readonly ManifestHash[]; readonly structure: readonly ManifestHash[] },
  indent: string,
): readonly string[] =>
  (['content', 'structure'] as const).flatMap((which) => [
    `${indent}<${which}>`,
    ...inSchemaOrder(hashes[which]).map((hash) => `${indent}  ${hashElement(hash)}`),
    `${indent}</${which}>`,
  ]);

function referenceLines(references: readonly ChainLink[]): readonly string[] {
  if (references.length === 0) return [];
  return [
    '  <references>',
    ...references.flatMap((reference) => [
      '    <hashlistreference>',
      `      <path>${escaped(reference.path)}</path>`,
      `      <c4>${escaped(reference.c4)}</c4>`,
      '    </hashlistreference>',
    ]),
    '  </references>',
  ];
}

const inSchemaOrder = (hashes: readonly ManifestHash[]): readonly ManifestHash[] =>
  [...hashes].sort((a, b) => hashKinds.indexOf(a.kind) - hashKinds.indexOf(b.kind));

const hashElement = (hash: ManifestHash): string =>
  `<${hash.kind}${attribute('action', hash.action)}${attribute('hashdate', dateOf(hash.at))}>${escaped(hash.value)}</${hash.kind}>`;

const attribute = (name: string, value: string | undefined): string =>
  value === undefined ? '' : ` ${name}="${escaped(value)}"`;
const dateOf = (at: EpochMs | undefined): string | undefined => (at === undefined ? undefined : dateTime(at));
const dateTime = (at: EpochMs): string => new Date(at).toISOString().replace('.000Z', 'Z').replace('Z', '+00:00');

/** Carriage returns are written as references, or a reader would turn them into line feeds; quotes for attributes. */
function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll('\r', '&#13;');
}
