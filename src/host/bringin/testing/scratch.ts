/** A scratch folder for one test, invented cards in it, and what must be true of every card and destination afterwards. */
import { createHash } from 'node:crypto';
import { lstat, mkdir, mkdtemp, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import type { Device } from '../../../core/bringin/formatVerdict.js';

export interface Scratch {
  path(...parts: readonly string[]): string;
  put(path: string, content: string | Uint8Array, at?: string): Promise<void>;
}

export function scratchFolder(): Scratch {
  let root = '';
  beforeEach(async () => {
    root = await mkdtemp(join(tmpdir(), 'tyrewall-bringin-'));
  });
  afterEach(() => rm(root, { recursive: true, force: true }));
  return {
    path: (...parts) => join(root, ...parts),
    put: async (path, content, at = '2026-05-30T10:00:00.120Z') => {
      await mkdir(dirname(join(root, path)), { recursive: true });
      await writeFile(join(root, path), content);
      await utimes(join(root, path), new Date(at), new Date(at));
    },
  };
}

/** Bytes that differ from file to file and along the file, so that a swapped or shifted block shows. */
export function bytesOf(seed: number, length: number): Uint8Array {
  const bytes = new Uint8Array(length);
  let state = (seed * 2_654_435_761 + 1) >>> 0;
  for (let index = 0; index < length; index++) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    bytes[index] = state >>> 24;
  }
  return bytes;
}

export const pictureAt = (number: number): string => `DCIM/100TESTA/TEST${String(number).padStart(4, '0')}.JPG`;

export async function putPictures(
  scratch: Scratch,
  card: string,
  numbers: readonly number[],
  length = 20_000,
): Promise<void> {
  for (const number of numbers) {
    await scratch.put(
      `${card}/${pictureAt(number)}`,
      bytesOf(number, length + number),
      `2026-05-30T10:00:${String(number % 60).padStart(2, '0')}Z`,
    );
  }
}

/** Every file below a folder by the SHA-1 of its bytes; `ascmhl` folders apart. Comparing megabytes one by one takes minutes. */
export async function contentOf(folder: string): Promise<ReadonlyMap<string, string>> {
  const paths = (await pathsBelow(folder)).filter((path) => !path.split('/').includes('ascmhl'));
  const hashed = paths.map(async (path) => [path, sha1Of(await readFile(join(folder, path)))] as const);
  return new Map(await Promise.all(hashed));
}

export const sha1Of = (bytes: string | Uint8Array): string => createHash('sha1').update(bytes).digest('hex');

export async function pathsBelow(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => !entry.isDirectory())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)))
    .sort();
}

/** Names, sizes, times, modes and inodes of a tree: equal before and after, nothing was written to it. */
export async function snapshotOf(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = [folder, ...entries.map((entry) => join(entry.parentPath, entry.name))].sort();
  return Promise.all(
    paths.map(async (path) => {
      const { mtimeNs, ctimeNs, size, mode, ino } = await lstat(path, { bigint: true });
      return [path, mtimeNs, ctimeNs, size, mode, ino].join(' ');
    }),
  );
}

/** Makes each destination a device of its own, which scratch folders never are. */
export const deviceOfItsOwn = async (folder: string): Promise<Device> => ({ kind: 'known', disks: [folder] });
