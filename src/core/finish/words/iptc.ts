/**
 * The words inside a picture, by the IPTC Photo Metadata Standard's mapping of its properties to XMP and IIM
 * (title dc:title ↔ 2:05, keywords dc:subject ↔ 2:25, creator dc:creator ↔ 2:80, credit photoshop:Credit ↔ 2:110,
 * copyright dc:rights ↔ 2:116, date created photoshop:DateCreated ↔ 2:55 and 2:60, event Iptc4xmpExt:Event, usage
 * xmpRights:UsageTerms, contact Iptc4xmpCore:CreatorContactInfo, data mining plus:DataMining). IIM lengths as in
 * IIM 4.2. A sidecar is the same RDF in a file of its own beside the picture (ISO 16684-1, 7.6 and the packet's form
 * in 7.3); nothing in it rates a picture.
 */
import type { EpochMs, WallMs } from '../../units.js';
import type { PictureWords } from '../types.js';

/** A field of IIM's application record; texts longer than `maxBytes` in UTF-8 are cut by the writer. */
export interface IimField {
  readonly record: 1 | 2;
  readonly dataset: number;
  readonly text: string;
  readonly maxBytes: number;
}

/** 1:90, coded character set: ESC % G says UTF-8. */
const UTF8: IimField = { record: 1, dataset: 90, text: '\u001b%G', maxBytes: 32 };

export function iimFields(words: PictureWords): readonly IimField[] {
  const { date, time } = words.captured ? iimDateTime(words.captured) : { date: null, time: null };
  const fields: readonly [number, string | null, number][] = [
    [5, words.title, 64],
    ...words.keywords.map((word): [number, string, number] => [25, word, 64]),
    [55, date, 8],
    [60, time, 11],
    [80, words.creator, 32],
    [110, words.credit, 32],
    [116, words.copyright, 128],
    [118, words.contact, 128],
  ];
  return [
    UTF8,
    ...fields.flatMap(([dataset, text, maxBytes]) =>
      text === null || text === '' ? [] : [{ record: 2, dataset, text, maxBytes } as const],
    ),
  ];
}

/**
 * A whole XMP packet. Nothing is in it that `words` does not say, apart from the wish not to be mined.
 * @param instance stands for what the picture was made of, as xmpMM:InstanceID
 */
export function xmpPacket(words: PictureWords, instance: string | null = null): string {
  const begin = '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>';
  return `${begin}\n${xmpMeta(words, instance)}\n<?xpacket end="r"?>`;
}

/** What lies beside a picture that must not be touched, under its name with `.xmp`. */
export const xmpSidecar = (words: PictureWords): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n${xmpMeta(words, null)}\n`;

function xmpMeta(words: PictureWords, instance: string | null): string {
  const properties = [
    words.title && alternatives('dc:title', words.title),
    words.creator && list('dc:creator', 'Seq', [words.creator]),
    words.keywords.length > 0 && list('dc:subject', 'Bag', words.keywords),
    words.copyright && alternatives('dc:rights', words.copyright),
    `<photoshop:Credit>${xml(words.credit)}</photoshop:Credit>`,
    words.captured && `<photoshop:DateCreated>${isoText(words.captured)}</photoshop:DateCreated>`,
    alternatives('Iptc4xmpExt:Event', words.event),
    alternatives('xmpRights:UsageTerms', words.usageTerms),
    '<xmpRights:Marked>True</xmpRights:Marked>',
    words.contact && contactInfo(words.contact),
    '<plus:DataMining>http://ns.useplus.org/ldf/vocab/DMI-PROHIBITED</plus:DataMining>',
    instance && `<xmpMM:InstanceID>xmp.iid:${instance}</xmpMM:InstanceID>`,
  ];
  return [
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">',
    `<rdf:Description rdf:about="" ${NAMESPACES}>`,
    ...properties.filter((property) => typeof property === 'string' && property !== ''),
    '</rdf:Description></rdf:RDF></x:xmpmeta>',
  ].join('\n');
}

const NAMESPACES = Object.entries({
  dc: 'http://purl.org/dc/elements/1.1/',
  photoshop: 'http://ns.adobe.com/photoshop/1.0/',
  xmpRights: 'http://ns.adobe.com/xap/1.0/rights/',
  xmpMM: 'http://ns.adobe.com/xap/1.0/mm/',
  Iptc4xmpCore: 'http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/',
  Iptc4xmpExt: 'http://iptc.org/std/Iptc4xmpExt/2008-02-29/',
  plus: 'http://ns.useplus.org/ldf/xmp/1.0/',
})
  .map(([prefix, uri]) => `xmlns:${prefix}="${uri}"`)
  .join(' ');

const alternatives = (name: string, text: string): string =>
  `<${name}><rdf:Alt><rdf:li xml:lang="x-default">${xml(text)}</rdf:li></rdf:Alt></${name}>`;

const list = (name: string, kind: 'Seq' | 'Bag', texts: readonly string[]): string =>
  `<${name}><rdf:${kind}>${texts.map((text) => `<rdf:li>${xml(text)}</rdf:li>`).join('')}</rdf:${kind}></${name}>`;

function contactInfo(contact: string): string {
  const field = contact.includes('@') ? 'CiEmailWork' : 'CiUrlWork';
  return `<Iptc4xmpCore:CreatorContactInfo rdf:parseType="Resource"><Iptc4xmpCore:${field}>${xml(contact)}</Iptc4xmpCore:${field}></Iptc4xmpCore:CreatorContactInfo>`;
}

/** Escaped for text and attributes; characters XML 1.0 does not allow are left out. */
export function xml(text: string): string {
  const escapes: Readonly<Record<string, string>> = {
    '&': '&amp;',
    '<': '&lt;',
    '>': '&gt;',
    '"': '&quot;',
    "'": '&#39;',
  };
  return Array.from(text)
    .filter((character) => isAllowed(character.codePointAt(0)!))
    .join('')
    .replace(/[&<>"']/g, (character) => escapes[character]!);
}

/** XML 1.0, production 2 (Char). */
function isAllowed(code: number): boolean {
  if (code < 0x20) return code === 0x9 || code === 0xa || code === 0xd;
  return code <= 0xd7ff || (code >= 0xe000 && code <= 0xfffd) || code >= 0x10000;
}

interface Captured {
  readonly wall: WallMs;
  readonly instant: EpochMs | null;
}

/** `2026-09-19T10:43:12+01:00`; without an instant the zone is unknown and left out. Whole seconds. */
export function isoText({ wall, instant }: Captured): string {
  return new Date(wall).toISOString().slice(0, 19) + (instant === null ? '' : offsetText(wall - instant, ':'));
}

function iimDateTime({ wall, instant }: Captured): { date: string; time: string } {
  const text = isoText({ wall, instant: null });
  const zone = instant === null ? '' : offsetText(wall - instant, '');
  return { date: text.slice(0, 10).replaceAll('-', ''), time: text.slice(11).replaceAll(':', '') + zone };
}

function offsetText(offsetMs: number, between: string): string {
  const minutes = Math.round(Math.abs(offsetMs) / 60_000);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${offsetMs < 0 ? '-' : '+'}${two(Math.floor(minutes / 60))}${between}${two(minutes % 60)}`;
}
