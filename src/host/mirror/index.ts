/**
 * Keeps what people said and what was measured alike on every disk that holds the meeting. Each writer's file only ever
 * grows, so of two versions the longer one holds the shorter; where that is not so, nothing is overwritten and a sentence
 * says so. The cards themselves are copied by bringing in, never here.
 */
import { mkdir, readdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { writeWhole } from '../meeting/writeWhole.js';

const appendOnly = ['log', 'measured'] as const;

export interface MirrorReport {
  readonly copied: number;
  readonly troubles: readonly string[];
}

/** Brings both folders to hold every line of either. Runs as often as one likes; the second time copies nothing. */
export async function mirrorLogs(one: string, other: string): Promise<MirrorReport> {
  let copied = 0;
  const troubles: string[] = [];
  for (const part of appendOnly)
    for (const name of await namesIn(join(one, part), join(other, part)))
      try {
        copied += (await alike(join(one, part, name), join(other, part, name))) ? 0 : 1;
      } catch (cause) {
        troubles.push((cause as Error).message);
      }
  return { copied, troubles };
}

async function namesIn(...folders: readonly string[]): Promise<readonly string[]> {
  const names = await Promise.all(folders.map((folder) => readdir(folder).catch(() => [])));
  return [...new Set(names.flat().filter((name) => name.endsWith('.jsonl')))].sort();
}

/** True where nothing had to be done. */
async function alike(one: string, other: string): Promise<boolean> {
  const [a, b] = await Promise.all([readOrEmpty(one), readOrEmpty(other)]);
  if (a.equals(b)) return true;
  const [longer, shorter, target] = a.length >= b.length ? [a, b, other] : [b, a, one];
  if (!longer.subarray(0, wholeLines(shorter)).equals(shorter.subarray(0, wholeLines(shorter))))
    throw new Error(
      `Expected ${one} and ${other} to begin alike, since each only ever grows, but they differ. Both were left as they are; keep both disks and compare the two files.`,
    );
  await mkdir(dirname(target), { recursive: true });
  await writeWhole(target, longer.toString('utf8'));
  return false;
}

const readOrEmpty = (path: string): Promise<Buffer> => readFile(path).catch(() => Buffer.alloc(0));

/** A torn last line may differ; all before it may not. */
const wholeLines = (bytes: Buffer): number => bytes.lastIndexOf(0x0a) + 1;
