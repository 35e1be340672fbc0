/**
 * Copies one file from a card to several destinations: read once, hashed as it is read, written everywhere under a
 * hidden name, flushed, then given its own name. A destination that fails does not stop the others.
 */
import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { dirname, join } from 'node:path';
import { partPrefix } from '../../core/bringin/names.js';
import type { CardFile } from '../../core/bringin/types.js';
import type { FileId } from '../../core/ids.js';
import type { EpochMs } from '../../core/units.js';
import { blockBytes, sharedBuffers } from './buffers.js';
import type { Disk, OpenFile } from './disk.js';
import { codeOf, meaningOf } from './errors.js';
import { giveBackHasher, takeHasher } from './hashing.js';
import { fill } from './readBack.js';
import type { Throttle } from './throttle.js';

export interface CopyJob {
  readonly source: string;
  readonly file: CardFile;
  /** Path below each fill folder. */
  readonly to: string;
  /** Fill folders by destination index. */
  readonly targets: ReadonlyMap<number, string>;
  /** The source's own time where a manifest knows a better one for the copy (a disk that rounds times). */
  readonly seenModified?: EpochMs;
  /** For mending: what stands under the final name is damaged and is to be replaced. */
  readonly replaces?: boolean;
}

export type TargetOutcome =
  /** Whole and flushed under its hidden name; `finish` gives it its own. */
  | { readonly kind: 'written'; readonly part: string; readonly final: string }
  /** A file of this size was there already; read it back to see whether it is this one. */
  | { readonly kind: 'there'; readonly final: string }
  /** Another file has this name. */
  | { readonly kind: 'occupied'; readonly final: string }
  | { readonly kind: 'failed'; readonly error: unknown };

export type CopyOutcome =
  | { readonly kind: 'read'; readonly fileId: FileId; readonly targets: ReadonlyMap<number, TargetOutcome> }
  | { readonly kind: 'changed'; readonly sentence: string }
  | { readonly kind: 'unreadable'; readonly error: unknown; readonly sentence: string };

export interface CopyMeans {
  readonly disk: Disk;
  readonly throttle: Throttle;
  readonly signal: AbortSignal | undefined;
  readonly onRead: (bytes: number) => void;
  readonly onWritten: (destination: number, bytes: number) => void;
}

const noFollow = constants.O_NOFOLLOW ?? 0;
const direct = (constants as { readonly O_DIRECT?: number }).O_DIRECT ?? 0;

export async function copyFile(job: CopyJob, means: CopyMeans): Promise<CopyOutcome> {
  let source: OpenFile;
  try {
    source = await means.disk.open(job.source, constants.O_RDONLY | noFollow);
  } catch (error) {
    return unreadable(job.file, error);
  }
  const targets = await openTargets(job, means.disk);
  try {
    return await pump(job, source, targets, means);
  } catch (error) {
    await Promise.all([...targets.values()].map((target) => discard(target, means.disk)));
    if (means.signal?.aborted) throw error;
    return unreadable(job.file, error);
  } finally {
    await source.close();
  }
}

function unreadable(file: CardFile, error: unknown): CopyOutcome {
  const sentence = `Expected to read ${file.path} from the card but ${meaningOf(error)}. Everything else goes on; try this card in another reader.`;
  return { kind: 'unreadable', error, sentence };
}

/** A copy being written, or the reason why there is none. */
interface Target {
  readonly part: string;
  readonly final: string;
  file: OpenFile | null;
  isDirect: boolean;
  outcome: TargetOutcome | null;
}

async function openTargets(job: CopyJob, disk: Disk): Promise<ReadonlyMap<number, Target>> {
  const opened = [...job.targets].map(async ([index, folder]) => [index, await openTarget(job, folder, disk)] as const);
  return new Map(await Promise.all(opened));
}

async function openTarget(job: CopyJob, folder: string, disk: Disk): Promise<Target> {
  const final = join(folder, job.to);
  const part = join(dirname(final), partNameOf(job.to));
  const target: Target = { part, final, file: null, isDirect: false, outcome: null };
  try {
    await disk.makeFolder(dirname(final));
    const there = job.replaces === true ? null : await disk.look(final);
    if (there !== null) target.outcome = { kind: there.size === job.file.bytes ? 'there' : 'occupied', final };
    else Object.assign(target, await openPart(part, disk));
  } catch (error) {
    target.outcome = { kind: 'failed', error };
  }
  return target;
}

const partNameOf = (to: string): string => `${partPrefix}${createHash('sha1').update(to).digest('hex').slice(0, 16)}`;

/** Writing past the page cache spares a copy in memory and leaves the cache to measuring; not every disk allows it. */
async function openPart(part: string, disk: Disk): Promise<{ file: OpenFile; isDirect: boolean }> {
  const flags = constants.O_WRONLY | constants.O_CREAT | constants.O_TRUNC | noFollow;
  if (direct === 0) return { file: await disk.open(part, flags), isDirect: false };
  try {
    return { file: await disk.open(part, flags | direct), isDirect: true };
  } catch (error) {
    if (codeOf(error) !== 'EINVAL') throw error;
    return { file: await disk.open(part, flags), isDirect: false };
  }
}

async function pump(
  job: CopyJob,
  source: OpenFile,
  targets: ReadonlyMap<number, Target>,
  means: CopyMeans,
): Promise<CopyOutcome> {
  const hasher = await takeHasher('xxh128');
  try {
    const bytes = await readAndWrite(source, targets, means, (chunk) => hasher.update(chunk));
    const sentence = await changeOf(job.file, job.seenModified ?? job.file.modified, source, bytes);
    if (sentence !== null) {
      await Promise.all([...targets.values()].map((target) => discard(target, means.disk)));
      return { kind: 'changed', sentence };
    }
    const finished = [...targets].map(
      async ([index, target]) => [index, await finish(target, job.file, means.disk)] as const,
    );
    return { kind: 'read', fileId: hasher.digest() as FileId, targets: new Map(await Promise.all(finished)) };
  } finally {
    giveBackHasher('xxh128', hasher);
  }
}

/** One chunk is read while the one before it is written. Resolves with the bytes read. */
async function readAndWrite(
  source: OpenFile,
  targets: ReadonlyMap<number, Target>,
  means: CopyMeans,
  hash: (chunk: Uint8Array) => void,
): Promise<number> {
  const pool = sharedBuffers();
  let writing: Promise<void> = Promise.resolve();
  let position = 0;
  try {
    for (;;) {
      means.signal?.throwIfAborted();
      const buffer = await pool.take();
      let length = 0;
      try {
        length = await fill(source, buffer, position);
        await means.throttle(length);
        await writing;
      } catch (error) {
        pool.giveBack(buffer);
        throw error;
      }
      means.onRead(length);
      writing = writeEverywhere(buffer, length, position, targets, means).finally(() => pool.giveBack(buffer));
      hash(buffer.subarray(0, length));
      position += length;
      if (length < buffer.length) break;
    }
  } finally {
    await writing;
  }
  return position;
}

async function writeEverywhere(
  buffer: Uint8Array,
  length: number,
  position: number,
  targets: ReadonlyMap<number, Target>,
  means: CopyMeans,
): Promise<void> {
  const writes = [...targets].map(async ([index, target]) => {
    if (target.file === null || target.outcome !== null) return;
    try {
      await writeAll(target, buffer, length, position);
      means.onWritten(index, length);
    } catch (error) {
      target.outcome = { kind: 'failed', error };
    }
  });
  await Promise.all(writes);
}

/** `O_DIRECT` takes whole blocks; what is written beyond the end is cut off when the file is finished. */
async function writeAll(target: Target, buffer: Uint8Array, length: number, position: number): Promise<void> {
  const wanted = target.isDirect ? Math.ceil(length / blockBytes) * blockBytes : length;
  let done = 0;
  while (done < wanted) {
    const { bytesWritten } = await target.file!.write(buffer, done, wanted - done, position + done);
    if (bytesWritten === 0) throw Object.assign(new Error('nothing more could be written'), { code: 'ENOSPC' });
    done += bytesWritten;
  }
}

/** Null when the file is what the listing said; a camera may still be writing to it, or a computer. */
async function changeOf(file: CardFile, modified: EpochMs, source: OpenFile, bytes: number): Promise<string | null> {
  const now = await source.stat();
  if (bytes === file.bytes && now.size === file.bytes && Math.floor(now.mtimeMs) === modified) return null;
  return `Expected ${file.bytes} bytes for ${file.path} but read ${bytes}, and it now has ${now.size}: it is still being written. Its copy was removed; bring the card in again.`;
}

async function finish(target: Target, file: CardFile, disk: Disk): Promise<TargetOutcome> {
  if (target.outcome?.kind === 'failed') await discard(target, disk);
  if (target.outcome !== null || target.file === null) return target.outcome!;
  try {
    if (target.isDirect) await target.file.truncate(file.bytes);
    await target.file.utimes(file.modified / 1000, file.modified / 1000);
    await target.file.sync();
    await target.file.close();
    target.file = null;
    return { kind: 'written', part: target.part, final: target.final };
  } catch (error) {
    target.outcome = { kind: 'failed', error };
    await discard(target, disk);
    return target.outcome;
  }
}

async function discard(target: Target, disk: Disk): Promise<void> {
  if (target.file === null) return;
  await target.file.close().catch(() => undefined);
  target.file = null;
  await disk.remove(target.part).catch(() => undefined);
}
