/** Measurements as append-only lines, `measured/<writer>.jsonl`, so that a colleague without the originals has them. */
import { open, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { FileId, FrameId } from '../../core/ids.js';
import { isSameBike } from '../../core/judge/index.js';
import type { BikeJudgement, JudgedLine } from '../../core/judge/types.js';
import { sealed } from '../../core/log/index.js';
import type { FileMetadata, FrameMeasurement, MeasuredLine } from '../../core/measure/types.js';
import type { MeasuredStore, StoredLine } from '../meeting/types.js';
import { appendOnlyFile } from './appendOnly.js';
import { betterJudged, betterMetadata, betterPixels } from './betterMeasurement.js';
import { groupCommit } from './groupCommit.js';
import { newWriterId } from './logbook.js';
import { LogbookError } from './logbookError.js';
import { unsealedBytes } from './unsealedBytes.js';

export interface OpenMeasuredStore extends MeasuredStore {
  readonly notices: readonly string[];
  close(): Promise<void>;
}

export interface MeasuredStoreOptions {
  readonly readOnlyBecause?: string;
  readonly index?: MeasuredIndex;
}

/** Reads `measured/` and opens it for appending. `folder` is the `measured` folder itself. */
export async function openMeasuredStore(
  folder: string,
  options: MeasuredStoreOptions = {},
): Promise<OpenMeasuredStore> {
  const held = new HeldMeasurements();
  const { notices, fresh } = await readInto(held, folder, options.index);
  /** What the index does not know yet; it is told at the end, opening is when people wait. */
  const news: StoredLine[] = [...fresh];
  let file = newFile(folder);
  const commits = groupCommit<readonly StoredLine[], undefined>(async (batches) => {
    try {
      await file.append(batches.flat().map(sealed));
    } catch (problem) {
      await file.close().catch(() => undefined);
      file = newFile(folder);
      throw problem;
    }
    return batches.map(() => undefined);
  });

  return {
    notices,
    metadata: (id) => held.metadata.get(id)?.metadata,
    pixels: (id) => held.pixels.get(id)?.pixels,
    allMetadata: () => held.metadataView,
    allPixels: () => held.pixelsView,
    allJudged: () => held.judgedView,
    async append(lines) {
      if (options.readOnlyBecause !== undefined) throw new LogbookError(options.readOnlyBecause, { path: folder });
      // Held at once: should the disk be full, today's work goes on, and the measurement is made again tomorrow.
      const better = lines.filter((line) => held.take(line));
      news.push(...better);
      if (better.length > 0) await commits.add(better);
    },
    async close() {
      await commits.idle();
      await file.close();
      await options.index?.note(await measuredSources(folder), news);
    },
  };
}

/** From the index as far as it goes, then from the files; a file that does not fit the index makes it start anew. */
async function readInto(
  held: HeldMeasurements,
  folder: string,
  index: MeasuredIndex | undefined,
): Promise<{ readonly notices: readonly string[]; readonly fresh: readonly StoredLine[] }> {
  const sources = await measuredSources(folder);
  const indexed = (await index?.load(sources)) ?? { lines: [], readFrom: new Map<string, number>() };
  for (const line of indexed.lines) held.take(line);
  const notices: string[] = [];
  const fresh: StoredLine[] = [];
  for (const { name, path } of sources) {
    const read = readMeasured(await readFrom(path, indexed.readFrom.get(name) ?? 0), `measured/${name}`);
    for (const line of read.lines) if (held.take(line)) fresh.push(line);
    notices.push(...read.notices);
  }
  return { notices, fresh };
}

async function readFrom(path: string, offset: number): Promise<Buffer> {
  const handle = await open(path, 'r');
  try {
    const { size } = await handle.stat();
    const bytes = Buffer.alloc(Math.max(0, size - offset));
    const { bytesRead } = await handle.read(bytes, 0, bytes.length, offset);
    return bytes.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}

const newFile = (folder: string) => appendOnlyFile(folder, `${newWriterId()}.jsonl`);

/** One file of `measured/`, as far as it goes now. */
export interface MeasuredSource {
  readonly name: string;
  readonly path: string;
  readonly bytes: number;
}

/** Remembers what the files said, so that opening need not read them again. */
export interface MeasuredIndex {
  load(sources: readonly MeasuredSource[]): Promise<{
    readonly lines: readonly StoredLine[];
    /** Per file name: the first byte that the index does not know. */
    readonly readFrom: ReadonlyMap<string, number>;
  }>;
  /** The sources are read to their ends; `lines` is what is new in them. */
  note(sources: readonly MeasuredSource[], lines: readonly StoredLine[]): Promise<void>;
}

async function measuredSources(folder: string): Promise<readonly MeasuredSource[]> {
  const names = await readdir(folder).catch((problem: NodeJS.ErrnoException) => {
    if (problem.code === 'ENOENT') return [];
    throw problem;
  });
  const wanted = names.filter((name) => name.endsWith('.jsonl')).sort();
  return Promise.all(
    wanted.map(async (name) => {
      const path = join(folder, name);
      return { name, path, bytes: (await stat(path)).size };
    }),
  );
}

type MetadataLine = Extract<MeasuredLine, { kind: 'metadata' }>;
type PixelsLine = Extract<MeasuredLine, { kind: 'pixels' }>;

/** The best measurement of each file and frame, whatever order the lines came in. */
class HeldMeasurements {
  readonly metadata = new Map<FileId, MetadataLine>();
  readonly pixels = new Map<FrameId, PixelsLine>();
  readonly metadataView = new Map<FileId, FileMetadata>();
  readonly pixelsView = new Map<FrameId, FrameMeasurement>();
  readonly judged = new Map<FrameId, readonly JudgedLine[]>();
  readonly judgedView = new Map<FrameId, readonly BikeJudgement[]>();

  /** True when the line says something new. */
  take(line: StoredLine): boolean {
    switch (line.kind) {
      case 'metadata':
        return this.takeMetadata(line);
      case 'pixels':
        return this.takePixels(line);
      case 'judged':
        return this.takeJudged(line);
    }
  }

  private takeMetadata(line: MetadataLine): boolean {
    const id = line.metadata.fileId;
    const known = this.metadata.get(id);
    if (known !== undefined && betterMetadata(known, line) === known) return false;
    this.metadata.set(id, line);
    this.metadataView.set(id, line.metadata);
    return true;
  }

  private takePixels(line: PixelsLine): boolean {
    const id = line.pixels.frameId;
    const known = this.pixels.get(id);
    if (known !== undefined && betterPixels(known, line) === known) return false;
    this.pixels.set(id, line);
    this.pixelsView.set(id, line.pixels);
    return true;
  }

  private takeJudged(line: JudgedLine): boolean {
    const { frameId, box } = line.bike;
    const ofFrame = this.judged.get(frameId) ?? [];
    const known = ofFrame.find(({ bike }) => isSameBike(bike.box, box));
    if (known !== undefined && betterJudged(known, line) === known) return false;
    const now = [...ofFrame.filter((one) => one !== known), line];
    this.judged.set(frameId, now);
    this.judgedView.set(
      frameId,
      now.map(({ bike }) => bike),
    );
    return true;
  }
}

/** Reads one file's lines; a damaged one costs a measurement that can be made again. */
export function readMeasured(
  bytes: Buffer,
  name: string,
): { readonly lines: readonly StoredLine[]; readonly notices: readonly string[] } {
  const lines: StoredLine[] = [];
  let damaged = 0;
  for (const row of rowsOf(bytes)) {
    const seal = unsealedBytes(row);
    if (seal.kind === 'damaged') damaged++;
    else if (isMeasuredLine(seal.value)) lines.push(seal.value as unknown as StoredLine);
  }
  if (damaged === 0) return { lines, notices: [] };
  const which = damaged === 1 ? 'One line' : `${damaged} lines`;
  const notice = `${which} of ${name} cannot be read (cut off or damaged); those frames are measured again.`;
  return { lines, notices: [notice] };
}

function* rowsOf(bytes: Buffer): Generator<Buffer> {
  let start = 0;
  while (start < bytes.length) {
    const newline = bytes.indexOf(0x0a, start);
    const end = newline < 0 ? bytes.length : newline;
    if (end > start) yield bytes.subarray(start, end);
    start = end + 1;
  }
}

function isMeasuredLine(value: Record<string, unknown>): boolean {
  const metadata = value.metadata as Partial<FileMetadata> | undefined;
  const pixels = value.pixels as Partial<FrameMeasurement> | undefined;
  const bike = value.bike as Partial<BikeJudgement> | undefined;
  if (value.kind === 'metadata') return typeof metadata?.fileId === 'string' && typeof metadata.v === 'number';
  if (value.kind === 'judged')
    return typeof bike?.frameId === 'string' && typeof bike.v === 'number' && bike.box?.length === 4;
  return value.kind === 'pixels' && typeof pixels?.frameId === 'string' && typeof pixels.v === 'number';
}
