/**
 * The meeting's secret: 256 random bits in `people/gallery.secret`, so that it travels with the meeting and never lies
 * in anything that is published. Without it no public address can be linked with a frame or a rider (settled 14).
 */
import { createHmac, randomBytes } from 'node:crypto';
import { link, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { PublicIdOf } from '../../core/handover/index.js';
import type { RiderId } from '../../core/ids.js';
import { GalleryError } from './galleryError.js';

const SECRET_BYTES = 32;
/** 128 bits, as 32 hex digits. */
const PUBLIC_ID_HEX = 32;
const secretFile = z.object({ v: z.literal(1), secret: z.string().regex(/^[0-9a-f]{64}$/) });

/** Reads the secret, or makes one; two processes that make it at once end with the same one. */
export async function meetingSecret(meetingFolder: string): Promise<string> {
  const path = join(meetingFolder, 'people', 'gallery.secret');
  await mkdir(join(meetingFolder, 'people'), { recursive: true });
  return (await readSecret(path)) ?? makeSecret(path);
}

/** Null before anything needed one: then no card and no address of this meeting is about. */
export const secretSoFar = (meetingFolder: string): Promise<string | null> =>
  readSecret(join(meetingFolder, 'people', 'gallery.secret'));

async function readSecret(path: string): Promise<string | null> {
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw new GalleryError(`The meeting's secret could not be read: ${error.message}`, path, error);
  });
  if (text === null) return null;
  try {
    return secretFile.parse(JSON.parse(text)).secret;
  } catch (error) {
    const sentence = `Expected {"v": 1, "secret": 64 hex digits} in ${path}, but it holds something else. Restore it from the second disk: with another secret all addresses handed out would stop working.`;
    throw new GalleryError(sentence, path, error);
  }
}

async function makeSecret(path: string): Promise<string> {
  const temporary = `${path}.${randomBytes(6).toString('hex')}`;
  await writeFile(temporary, `${JSON.stringify({ v: 1, secret: randomBytes(SECRET_BYTES).toString('hex') })}\n`, {
    mode: 0o600,
    flush: true,
  });
  try {
    // A link fails where the name is taken; a rename would overwrite the other process's secret.
    await link(temporary, path).catch(async (error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') return;
      // exFAT knows no links: write it there, unless it has come to be in the meantime.
      await writeFile(path, await readFile(temporary), { flag: 'wx', mode: 0o600, flush: true });
    });
  } finally {
    await rm(temporary, { force: true });
  }
  return (await readSecret(path))!;
}

const keyed = (secret: string, ...parts: readonly string[]): string =>
  createHmac('sha256', Buffer.from(secret, 'hex')).update(JSON.stringify(parts)).digest('hex');

/** HMAC-SHA-256 (RFC 2104), cut to its left 128 bits; the kind keeps ids of different things apart. */
export function publicIdsOf(secret: string): PublicIdOf {
  return (kind, what) => keyed(secret, 'public', kind, what).slice(0, PUBLIC_ID_HEX);
}

/** Rider ids minted by publishing, in the shape of a UUID of version 8 (RFC 9562: own content). */
export function mintWith(secret: string): (face: string) => RiderId {
  return (face) => {
    const hex = keyed(secret, 'rider-id', face);
    const variant = ((Number.parseInt(hex[16]!, 16) & 0x3) | 0x8).toString(16);
    const parts = [
      hex.slice(0, 8),
      hex.slice(8, 12),
      `8${hex.slice(13, 16)}`,
      `${variant}${hex.slice(17, 20)}`,
      hex.slice(20, 32),
    ];
    return parts.join('-') as RiderId;
  };
}
