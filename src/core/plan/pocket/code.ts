/**
 * A pocket day, or what was tapped, as a code that stands behind the # of an address: browsers keep that part to themselves.
 * One byte says version and kind, four are the CRC-32 of what was squeezed (raw DEFLATE, RFC 1951), then comes that; all of it
 * in base64url (RFC 4648).
 */
import { crc32OfBytes } from '../../numeric/crc32.js';
import { UnreadableBytes } from './bytes.js';
import { bytesOfDay, dayOfBytes } from './dayBytes.js';
import { bytesOfTaps, tapsOfBytes } from './tapBytes.js';
import type { PocketDay, PocketTaps } from './types.js';
import { fromBase64Url, toBase64Url } from './utf8.js';

/** 2: a late start goes along with where it was planned. */
const VERSION = 2;
const KINDS = ['day', 'taps'] as const;
const HEAD_BYTES = 5;
/** A day with all its crops stays far below; more is damage, or meant to fill the phone's memory. */
const MOST_BYTES = 1_000_000;

/** Raw DEFLATE of whoever runs this: a browser's streams or zlib. `unsqueeze` rejects what is damaged or longer than `most`. */
export interface Squeezer {
  squeeze(bytes: Uint8Array): Promise<Uint8Array>;
  unsqueeze(bytes: Uint8Array, most: number): Promise<Uint8Array>;
}

export interface PocketCode {
  readonly code: string;
  /** CRC-32 of what is in it: names this day in what comes back. */
  readonly check: string;
  /** Without the code's five bytes of head. */
  readonly squeezedBytes: number;
}

export type ReadCode =
  | { readonly kind: 'day'; readonly day: PocketDay; readonly check: string }
  | { readonly kind: 'taps'; readonly taps: PocketTaps; readonly check: string }
  | { readonly kind: 'refused'; readonly sentence: string };

export const codeOfDay = (day: PocketDay, squeezer: Squeezer): Promise<PocketCode> =>
  codeOf('day', bytesOfDay(day), squeezer);

export const codeOfTaps = (taps: PocketTaps, squeezer: Squeezer): Promise<PocketCode> =>
  codeOf('taps', bytesOfTaps(taps), squeezer);

async function codeOf(kind: (typeof KINDS)[number], body: Uint8Array, squeezer: Squeezer): Promise<PocketCode> {
  const check = crc32OfBytes(body);
  const squeezed = await squeezer.squeeze(body);
  const bytes = new Uint8Array(HEAD_BYTES + squeezed.length);
  bytes[0] = VERSION * 16 + KINDS.indexOf(kind);
  for (let at = 0; at < 4; at += 1) bytes[at + 1] = Number.parseInt(check.slice(2 * at, 2 * at + 2), 16);
  bytes.set(squeezed, HEAD_BYTES);
  return { code: toBase64Url(bytes), check, squeezedBytes: squeezed.length };
}

/** @param text the code, an address with it behind its #, or a file that holds either */
export async function readCode(text: string, squeezer: Squeezer): Promise<ReadCode> {
  const code = text.slice(text.lastIndexOf('#') + 1).trim();
  const bytes = code === '' ? null : fromBase64Url(code);
  if (bytes === null || bytes.length <= HEAD_BYTES) return refused(NO_CODE(code));
  const version = bytes[0]! >> 4;
  if (version !== VERSION) return refused(OTHER_VERSION(version));
  const kind = KINDS[bytes[0]! & 15];
  if (kind === undefined) return refused(DAMAGED('it is neither a day nor taps'));
  const check = Array.from(bytes.subarray(1, HEAD_BYTES), (byte) => byte.toString(16).padStart(2, '0')).join('');
  try {
    const body = await squeezer.unsqueeze(bytes.subarray(HEAD_BYTES), MOST_BYTES);
    if (crc32OfBytes(body) !== check) return refused(DAMAGED('its check does not agree'));
    return kind === 'day' ? { kind, day: dayOfBytes(body), check } : { kind, taps: tapsOfBytes(body), check };
  } catch (problem) {
    return refused(DAMAGED(problem instanceof UnreadableBytes ? problem.message : 'it cannot be unpacked'));
  }
}

const refused = (sentence: string): ReadCode => ({ kind: 'refused', sentence });

const NO_CODE = (code: string): string =>
  `Expected a day for the pocket page but got ${code === '' ? 'nothing' : `“${code.slice(0, 24)}${code.length > 24 ? '…' : ''}”`}. Scan the code on the laptop again, or open the file it saved.`;
const OTHER_VERSION = (version: number): string =>
  `Expected a day of version ${VERSION} but got version ${version}. Open this page once where there is signal, so that it becomes new, and scan again.`;
const DAMAGED = (how: string): string =>
  `Expected a whole day for the pocket page but this one is damaged: ${how}. Scan the code on the laptop again, or open the file it saved.`;
