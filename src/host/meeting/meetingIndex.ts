/**
 * The index of a meeting: what the folder's files said, in a database outside it, so that opening 30,000 frames need
 * not read manifests and measurements again. Never the truth: where its schema differs, or it does not fit the
 * folder, or it is damaged, it is made again.
 */
import { createHash } from 'node:crypto';
import { open, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Fill, FillFile } from '../../core/bringin/types.js';
import type { FileId, FillId } from '../../core/ids.js';
import { epochMsOf } from '../../core/units.js';
import { IndexError, type IndexStore, openLibsqlStore } from '../index/index.js';
import type { MeasuredIndex, MeasuredSource } from '../logbook/index.js';
import type { StoredLine } from './types.js';

/** Raised with every change of the tables below. */
const SCHEMA_VERSION = 2;
const SCHEMA = `
  create table about (name text primary key, value text);
  create table source (name text primary key, bytes integer, tail text);
  create table measured (place integer primary key, lines text);
  create table fill (id text primary key, folder text, first_brought_in integer, generations integer, place integer);
  create table file (fill text, path text, bytes integer, modified real, file_id text, place integer, primary key (fill, path));
`;

export interface MeetingIndex extends MeasuredIndex {
  /** The fills as indexed while the manifests are the same ones; else reads them and remembers. */
  fills(read: () => Promise<readonly Fill[]>): Promise<readonly Fill[]>;
  close(): void;
}

/** Opens the index of the meeting at `folder`, making it anew where it cannot be used. */
export async function openMeetingIndex(stateFolder: string, folder: string): Promise<MeetingIndex> {
  const path = join(stateFolder, 'index.sqlite');
  let store = openIfUsable(path) ?? (await freshStore(path));

  /** A database that turns out to be damaged while it is read is made anew, and asked once more. */
  const asked = async <Answer>(question: (store: IndexStore) => Promise<Answer>): Promise<Answer> => {
    try {
      return await question(store);
    } catch (problem) {
      if (!(problem instanceof IndexError)) throw problem;
      store.close();
      store = await freshStore(path);
      return question(store);
    }
  };
  return {
    load: (sources) => asked(async (now) => ((await fits(now, sources)) ? loaded(now) : startedAnew(now))),
    note: async (sources, lines) => {
      const whole = await withTails(sources);
      await asked(async (now) => note(now, whole, lines));
    },
    fills: (read) => asked((now) => fillsThrough(now, folder, read)),
    close: () => store.close(),
  };
}

async function freshStore(path: string): Promise<IndexStore> {
  for (const part of ['', '-wal', '-shm']) await rm(`${path}${part}`, { force: true });
  const store = openLibsqlStore(path);
  store.exec(SCHEMA);
  store.run('insert into about values (?, ?)', ['schema', String(SCHEMA_VERSION)]);
  return store;
}

/** Null for a file that is no database or has another schema. */
function openIfUsable(path: string): IndexStore | null {
  let store: IndexStore | null = null;
  try {
    store = openLibsqlStore(path);
    const schema = store.all('select value from about where name = ?', ['schema'])[0]?.value;
    if (schema === String(SCHEMA_VERSION)) return store;
  } catch {
    // What cannot be read is made again.
  }
  store?.close();
  return null;
}

const TAIL_BYTES = 64;

/** The last bytes up to `end`, by which a file that was replaced is told from one that grew. */
async function tailAt(path: string, end: number): Promise<string> {
  const handle = await open(path, 'r');
  try {
    const length = Math.min(TAIL_BYTES, end);
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(length), 0, length, end - length);
    return buffer.toString('latin1', 0, bytesRead);
  } finally {
    await handle.close();
  }
}

/** Longer than any line: in so many bytes there is a newline. */
const LONGEST_LINE_BYTES = 262_144;

/** Up to its last newline: half a line at the end may be completed by the copy of another disk. */
async function wholeLines(source: MeasuredSource): Promise<MeasuredSource> {
  const handle = await open(source.path, 'r');
  try {
    const length = Math.min(LONGEST_LINE_BYTES, source.bytes);
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(length), 0, length, source.bytes - length);
    const newline = buffer.subarray(0, bytesRead).lastIndexOf('\n');
    return { ...source, bytes: newline < 0 ? 0 : source.bytes - length + newline + 1 };
  } finally {
    await handle.close();
  }
}

const withTails = (sources: readonly MeasuredSource[]) =>
  Promise.all(
    sources.map(async (source) => {
      const whole = await wholeLines(source);
      return { ...whole, tail: await tailAt(whole.path, whole.bytes) };
    }),
  );

async function fits(store: IndexStore, sources: readonly MeasuredSource[]): Promise<boolean> {
  const here = new Map(sources.map((source) => [source.name, source]));
  for (const { name, bytes, tail } of store.all('select name, bytes, tail from source')) {
    const source = here.get(name as string);
    if (source === undefined || source.bytes < (bytes as number)) return false;
    if ((await tailAt(source.path, bytes as number)) !== tail) return false;
  }
  return true;
}

function loaded(store: IndexStore): Awaited<ReturnType<MeasuredIndex['load']>> {
  const chunks = store.all('select lines from measured order by place');
  const sources = store.all('select name, bytes from source');
  return {
    lines: chunks.flatMap(({ lines }) => JSON.parse(lines as string) as StoredLine[]),
    readFrom: new Map(sources.map(({ name, bytes }) => [name as string, bytes as number])),
  };
}

function startedAnew(store: IndexStore): Awaited<ReturnType<MeasuredIndex['load']>> {
  store.transaction(() => {
    for (const table of ['source', 'measured']) store.run(`delete from ${table}`);
  });
  return { lines: [], readFrom: new Map() };
}

/** A row for each measurement took ten times as long to write as rows of many, and longer to read than the files. */
const LINES_PER_ROW = 250;

function note(
  store: IndexStore,
  sources: readonly (MeasuredSource & { readonly tail: string })[],
  lines: readonly StoredLine[],
): void {
  store.transaction(() => {
    for (let at = 0; at < lines.length; at += LINES_PER_ROW) {
      const chunk = JSON.stringify(lines.slice(at, at + LINES_PER_ROW));
      store.run('insert into measured (lines) values (?)', [chunk]);
    }
    for (const { name, bytes, tail } of sources) {
      store.run('insert or replace into source values (?, ?, ?)', [name, bytes, tail]);
    }
  });
}

async function fillsThrough(
  store: IndexStore,
  folder: string,
  read: () => Promise<readonly Fill[]>,
): Promise<readonly Fill[]> {
  const mark = await manifestsMark(join(folder, 'cards'));
  const known = store.all('select value from about where name = ?', ['manifests'])[0]?.value;
  if (known === mark) return indexedFills(store);
  const fills = await read();
  store.transaction(() => noteFills(store, fills, mark));
  return fills;
}

/** Changes whenever a manifest is added or replaced: names, sizes and times of all of them. */
async function manifestsMark(cards: string): Promise<string> {
  const hash = createHash('sha256');
  const fills = (await readdir(cards).catch(() => [] as string[])).sort();
  for (const fill of fills) {
    const folder = join(cards, fill, 'ascmhl');
    for (const name of (await readdir(folder).catch(() => [] as string[])).sort()) {
      const { size, mtimeMs } = await stat(join(folder, name));
      hash.update(`${fill}/${name} ${size} ${mtimeMs}\n`);
    }
  }
  return hash.digest('hex');
}

function noteFills(store: IndexStore, fills: readonly Fill[], mark: string): void {
  store.run('delete from fill');
  store.run('delete from file');
  for (const [place, fill] of fills.entries()) {
    const { id, folder, firstBroughtIn, generations } = fill;
    store.run('insert into fill values (?, ?, ?, ?, ?)', [id, folder, firstBroughtIn, generations, place]);
    for (const [at, file] of fill.files.entries()) {
      const values = [id, file.path, file.bytes, file.modified, file.fileId, at];
      store.run('insert into file values (?, ?, ?, ?, ?, ?)', values);
    }
  }
  store.run('insert or replace into about values (?, ?)', ['manifests', mark]);
}

function indexedFills(store: IndexStore): readonly Fill[] {
  const files = new Map<string, FillFile[]>();
  for (const row of store.all('select * from file order by fill, place')) {
    const ofFill = files.get(row.fill as string) ?? [];
    files.set(row.fill as string, ofFill);
    ofFill.push({
      path: row.path as string,
      bytes: row.bytes as number,
      modified: epochMsOf(row.modified as number),
      fileId: row.file_id as FileId,
    });
  }
  return store.all('select * from fill order by place').map((row) => ({
    id: row.id as FillId,
    folder: row.folder as string,
    firstBroughtIn: epochMsOf(row.first_brought_in as number),
    generations: row.generations as number,
    files: files.get(row.id as string) ?? [],
  }));
}
