/**
 * One record as one line of text with its checksum: canonical JSON (keys sorted, nothing but ASCII) whose last member
 * is `crc32` over the text without it. The check works on the text as it stands, so that a line written by a newer
 * version, with members unknown here, is still known to be whole.
 */
import { crc32Of } from './crc32.js';
import { LogError } from './logError.js';

/** `,"crc32":"cbf43926"}` */
const SEAL_LENGTH = 20;
const SEAL = /^,"crc32":"([0-9a-f]{8})"\}$/;
// biome-ignore lint/suspicious/noControlCharactersInRegex: everything outside ASCII is what must be escaped
const BEYOND_ASCII = /[^\u0000-\u007f]/g;

const escaped = (unit: string): string => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;

const textOf = (value: string): string => JSON.stringify(value).replace(BEYOND_ASCII, escaped);

/** JSON with sorted keys; equal values give equal text. Members that are `undefined` are left away. */
export function canonicalText(value: unknown, where = 'the record'): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'string') return textOf(value);
  if (typeof value === 'number' && Number.isFinite(value)) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map((item, i) => canonicalText(item, `${where}[${i}]`)).join(',')}]`;
  if (typeof value === 'object') return objectText(value as Record<string, unknown>, where);
  throw new LogError(`Expected plain data at ${where} but got ${String(value)}; nothing was written.`, { path: where });
}

function objectText(value: Record<string, unknown>, where: string): string {
  const members: string[] = [];
  for (const key of Object.keys(value).sort()) {
    const member = value[key];
    if (member !== undefined) members.push(`${textOf(key)}:${canonicalText(member, `${where}.${key}`)}`);
  }
  return `{${members.join(',')}}`;
}

/** The record's line, without the newline at its end. */
export function sealed(record: object): string {
  const text = canonicalText(record);
  const comma = text === '{}' ? '' : ',';
  return `${text.slice(0, -1)}${comma}"crc32":"${crc32Of(text)}"}`;
}

export type Unsealed =
  | { readonly kind: 'whole'; readonly value: Record<string, unknown> }
  | { readonly kind: 'damaged'; readonly why: string };

/** Checks a line against its own checksum; the value is without it. */
export function unsealed(line: string): Unsealed {
  const seal = SEAL.exec(line.slice(-SEAL_LENGTH));
  if (seal === null) return { kind: 'damaged', why: 'it does not end in a checksum' };
  const body = `${line.slice(0, -SEAL_LENGTH)}}`;
  const received = crc32Of(body);
  if (received !== seal[1]) {
    return { kind: 'damaged', why: `its checksum says ${seal[1]} but its text gives ${received}` };
  }
  return { kind: 'whole', value: JSON.parse(body) as Record<string, unknown> };
}
