/**
 * Finals as they were handed over, in the service's data folder: `finals/<picture>/<licence>-<size>.jpg`, and beside each what is known
 * of its bytes, so that a zip's checksums need no reading. A final stands once that record does. They are kept as they were made: a
 * buyer who comes back has the same picture. Rules HD13, HD14.
 */
import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { copyFile, mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { z } from 'zod';
import type { RemovedThing } from '../../../core/handover/law/index.js';
import type { PublicId } from '../../../core/handover/types.js';
import { UNFINISHED, writeAtomically } from '../../../host/finish/atomically.js';
import type { FinalWish, ReadyFinal } from '../types.js';

const recordFile = z.object({
  v: z.literal(1),
  bytes: z.int().positive(),
  crc32: z.int().min(0).max(0xffff_ffff),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});

/** Nobody takes so long over one file. */
const LEFT_OVER_MS = 3_600_000;

export class FinalStore {
  readonly #folder: string;

  constructor(dataFolder: string) {
    this.#folder = join(dataFolder, 'finals');
  }

  pathOf({ picture, licence, longEdgePx }: FinalWish): string {
    return join(this.#folder, picture, `${licence}-${longEdgePx ?? 'full'}.jpg`);
  }

  /** Null where none stands, or what lies there is not what was written. */
  async find(wish: FinalWish): Promise<ReadyFinal | null> {
    const path = this.pathOf(wish);
    const text = await readFile(`${path}.json`, 'utf8').catch(() => null);
    const record = text === null ? undefined : recordFile.safeParse(parsed(text)).data;
    if (record === undefined) return null;
    const there = await stat(path).catch(() => null);
    return there?.size === record.bytes ? { path, ...withoutVersion(record) } : null;
  }

  /** Takes a copy; whatever lay there is replaced. */
  async put(wish: FinalWish, from: string): Promise<ReadyFinal> {
    const path = this.pathOf(wish);
    const folder = join(this.#folder, wish.picture);
    await mkdir(folder, { recursive: true, mode: 0o700 });
    await rm(`${path}.json`, { force: true });
    const temporary = join(folder, `${UNFINISHED}${randomUUID()}`);
    try {
      await copyFile(from, temporary);
      const file = await open(temporary, 'r+');
      await file.sync().finally(() => file.close());
      // Of the copy, so that what is said is said of the bytes that lie here.
      const known = await sumsOf(temporary);
      await rename(temporary, path);
      await writeAtomically(`${path}.json`, `${JSON.stringify({ v: 1, ...known })}\n`);
      return { path, ...known };
    } catch (error) {
      await rm(temporary, { force: true });
      throw error;
    }
  }

  /** What killed programs left half written. A young one may be somebody's who is still at it. */
  async removeLeftOver(nowMs: number): Promise<void> {
    for (const picture of await readdir(this.#folder).catch(() => [])) {
      const names = await readdir(join(this.#folder, picture)).catch(() => []);
      for (const name of names.filter((one) => one.startsWith(UNFINISHED))) {
        const path = join(this.#folder, picture, name);
        const there = await stat(path).catch(() => null);
        if (there !== null && there.mtimeMs < nowMs - LEFT_OVER_MS) await rm(path, { force: true });
      }
    }
  }

  /** All of these pictures, in every size and licence; says what it was, for the proof of a takedown. */
  async removeAll(pictures: ReadonlySet<PublicId>): Promise<readonly RemovedThing[]> {
    const here = await readdir(this.#folder).catch(() => []);
    const removed: RemovedThing[] = [];
    for (const picture of here.filter((one) => pictures.has(one))) removed.push(...(await this.#remove(picture)));
    return removed;
  }

  async #remove(picture: PublicId): Promise<readonly RemovedThing[]> {
    const folder = join(this.#folder, picture);
    const names = (await readdir(folder).catch(() => [])).filter((name) => name.endsWith('.jpg')).sort();
    const removed: RemovedThing[] = [];
    for (const name of names) {
      // Gone in the meantime: whoever took it away says so.
      const sums = await sumsOf(join(folder, name)).catch(() => null);
      if (sums !== null) removed.push({ what: `finals/${picture}/${name}`, sha256: sums.sha256, bytes: sums.bytes });
    }
    await rm(folder, { recursive: true, force: true });
    return removed;
  }
}

async function sumsOf(path: string): Promise<Omit<ReadyFinal, 'path'>> {
  const hash = createHash('sha256');
  let sum = 0;
  let bytes = 0;
  for await (const piece of createReadStream(path, { highWaterMark: 1024 * 1024 }) as AsyncIterable<Buffer>) {
    hash.update(piece);
    sum = crc32(piece, sum);
    bytes += piece.length;
  }
  return { bytes, crc32: sum, sha256: hash.digest('hex') };
}

const withoutVersion = ({ bytes, crc32: sum, sha256 }: z.infer<typeof recordFile>) => ({ bytes, crc32: sum, sha256 });

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
