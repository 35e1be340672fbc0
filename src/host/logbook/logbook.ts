/** The decision log of a meeting folder: every writer's file read, this process's own file appended to. */
import { randomBytes } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import type { GestureId, WriterId } from '../../core/ids.js';
import { checkDecision, fold, LINE_VERSION, LogError, lineText, readLog } from '../../core/log/index.js';
import type { Decision, FoldedLog, LogLine } from '../../core/log/types.js';
import { epochMsOf } from '../../core/units.js';
import type { Logbook } from '../meeting/types.js';
import { type AppendOnlyFile, appendOnlyFile } from './appendOnly.js';
import { missingLines, newestSeqs } from './gaps.js';
import { groupCommit } from './groupCommit.js';
import { LogbookError } from './logbookError.js';

export interface LogbookOptions {
  /** Opened for looking only: why nothing may be written, as a sentence. */
  readonly readOnlyBecause?: string;
  readonly now?: () => number;
}

export interface OpenLogbook extends Logbook {
  close(): Promise<void>;
}

/** 64 random bits: two starts anywhere do not share a file. */
export const newWriterId = (): WriterId => randomBytes(8).toString('hex') as WriterId;
/** Time-ordered, so that a log reads in order; the desk makes them for its own gestures. */
export const newGestureId = (): GestureId => uuidv7() as GestureId;

interface Said {
  readonly gesture: GestureId;
  readonly decisions: readonly Decision[];
}

/** Reads `log/` and opens it for appending under a new writer id. `folder` is the `log` folder itself. */
export async function openLogbook(folder: string, options: LogbookOptions = {}): Promise<OpenLogbook> {
  const read = await readLogFolder(folder);
  const now = options.now ?? Date.now;
  const lines: LogLine[] = [...read.lines];
  let folded: FoldedLog | null = fold(lines);
  let lamport = folded.nextLamport;
  let pen = newPen(folder);

  const foldedNow = (): FoldedLog => {
    folded ??= fold(lines);
    return folded;
  };

  const linesOf = (said: Said, firstSeq: number): readonly LogLine[] =>
    said.decisions.map((decision, i) => ({
      writer: pen.writer,
      seq: firstSeq + i,
      v: LINE_VERSION,
      lamport: lamport + firstSeq - pen.nextSeq + i,
      gesture: said.gesture,
      at: epochMsOf(now()),
      ...(said.decisions.length > 1 ? { part: [i + 1, said.decisions.length] as const } : {}),
      decision,
    }));

  const commit = async (all: readonly Said[]): Promise<readonly (readonly LogLine[])[]> => {
    const noted = pen.nextSeq === 1 ? whatWasSeen(lines) : [];
    let seq = pen.nextSeq;
    const written = [...noted, ...all].map((said) => {
      const ofGesture = linesOf(said, seq);
      seq += ofGesture.length;
      return ofGesture;
    });
    try {
      await pen.file.append(written.flat().map(lineText));
    } catch (problem) {
      await pen.file.close().catch(() => undefined);
      pen = newPen(folder);
      throw problem;
    }
    lines.push(...written.flat());
    lamport += seq - pen.nextSeq;
    pen.nextSeq = seq;
    folded = null;
    return written.slice(noted.length);
  };

  const known = new Map<GestureId, Promise<readonly LogLine[]>>();
  const commits = groupCommit(commit);

  const appendOnce = (said: Said): Promise<readonly LogLine[]> => {
    const inFlight = known.get(said.gesture);
    if (inFlight !== undefined) return inFlight;
    const written = commits.add(said);
    known.set(said.gesture, written);
    written.catch(() => known.delete(said.gesture));
    return written;
  };

  for (const [gesture, ofGesture] of wholeGestures(foldedNow())) known.set(gesture, Promise.resolve(ofGesture));

  return {
    get writer() {
      return pen.writer;
    },
    notices: [...read.notices, ...missingLines(lines)],
    folded: foldedNow,
    async append(gesture, decisions) {
      if (options.readOnlyBecause !== undefined) throw new LogbookError(options.readOnlyBecause, { path: folder });
      for (const decision of decisions) refuseMalformed(decision);
      return decisions.length === 0 ? [] : appendOnce({ gesture, decisions });
    },
    async close() {
      await commits.idle();
      await pen.file.close();
    },
  };
}

/** A fresh file with a fresh name: at each start, and after a write that failed. */
function newPen(folder: string): { readonly writer: WriterId; readonly file: AppendOnlyFile; nextSeq: number } {
  const writer = newWriterId();
  return { writer, file: appendOnlyFile(folder, `${writer}.jsonl`), nextSeq: 1 };
}

function refuseMalformed(decision: Decision): void {
  const checked = checkDecision(decision);
  if (checked.kind === 'malformed') throw new LogError(`${checked.sentence} Nothing was written.`);
}

/** Said first by each writer, so that what came later is told from what was said at once on another laptop. */
function whatWasSeen(lines: readonly LogLine[]): readonly Said[] {
  const writers = newestSeqs(lines);
  if (writers.size === 0) return [];
  return [{ gesture: newGestureId(), decisions: [{ kind: 'seen', writers: Object.fromEntries(writers) }] }];
}

/** Gestures of which every line is here; one that was cut off may be sent again. */
function wholeGestures(folded: FoldedLog): ReadonlyMap<GestureId, readonly LogLine[]> {
  const byAttempt = new Map<string, LogLine[]>();
  for (const line of folded.lines) {
    const attempt = `${line.gesture} ${line.writer}`;
    byAttempt.set(attempt, [...(byAttempt.get(attempt) ?? []), line]);
  }
  const attempts = [...byAttempt.values()].filter((lines) => lines.length >= (lines[0]?.part?.[1] ?? 1));
  return new Map(attempts.map((lines) => [(lines[0] as LogLine).gesture, lines]));
}

async function readLogFolder(folder: string): Promise<{ lines: readonly LogLine[]; notices: readonly string[] }> {
  const names = await readdir(folder).catch((problem: NodeJS.ErrnoException) => {
    if (problem.code === 'ENOENT') return [];
    throw problem;
  });
  const lines: LogLine[] = [];
  const notices: string[] = [];
  for (const name of names.filter((entry) => entry.endsWith('.jsonl')).sort()) {
    const read = await readLogFile(join(folder, name), name);
    lines.push(...read.lines);
    notices.push(...read.notices);
  }
  return { lines, notices };
}

/** A file that cannot be read costs its own lines, not the meeting. */
async function readLogFile(path: string, name: string): Promise<Pick<ReturnType<typeof readLog>, 'lines' | 'notices'>> {
  try {
    return readLog(await readFile(path, 'utf8'), `log/${name}`);
  } catch (problem) {
    const why = (problem as Error).message;
    const notice = `Expected to read log/${name} but ${why}; its decisions are missing here. Copy it from the other disk and open again.`;
    return { lines: [], notices: [notice] };
  }
}
