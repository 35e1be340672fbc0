/**
 * The photographer's own mark as a picture: `mark.png` in the meeting's folder, named by its hash in `meeting.json`; and
 * the same beside the finishes of this machine, from where the next meeting takes it.
 */
import { mkdir, readFile, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { xxhash128 } from 'hash-wasm';
import { ChildPool } from '../../children/index.js';
import { amendAbout, type MeetingAbout } from '../../meeting/index.js';
import { writeAtomically } from '../atomically.js';
import { FinishError } from '../finishError.js';
import type { MarkAnswer, MarkJob } from './prepareMark.js';

const TIME_LIMIT_MS = 30_000;
const MOST_BYTES = 20_000_000;
const CHILD = new URL(import.meta.url.endsWith('.ts') ? './markChild.ts' : './markChild.js', import.meta.url);

const pathIn = (folder: string): string => join(folder, 'mark.png');

/** A PNG made ready. Throws a sentence where the file is no PNG or SVG with transparency, or too small. */
export async function readOwnMark(path: string): Promise<Buffer> {
  const there = await stat(path).catch(() => null);
  if (there?.isDirectory()) throw refused(path, 'that is a folder');
  if (!there?.isFile()) throw refused(path, 'there is no such file');
  if (there.size > MOST_BYTES) throw refused(path, `it has ${there.size} bytes, more than ${MOST_BYTES}`);
  return prepareOwnMark(basename(path), await readFile(path));
}

/** The same of bytes that came another way. */
export async function prepareOwnMark(name: string, bytes: Uint8Array): Promise<Buffer> {
  const pool = new ChildPool<MarkJob, MarkAnswer>({
    childModule: CHILD,
    settings: {},
    workers: 1,
    timeLimitMs: TIME_LIMIT_MS,
    afterTwoDeaths: (_, why) => ({ kind: 'refused', why: `twice whoever drew it ${why}` }),
    errorFor: (_, trouble) => refused(name, 'why' in trouble ? `whoever draws it ${trouble.why}` : trouble.kind),
  });
  try {
    const answer = await pool.run({ name, bytes: Buffer.from(bytes).toString('base64') });
    if (answer.kind === 'refused') throw refused(name, answer.why);
    return Buffer.from(answer.png, 'base64');
  } finally {
    await pool.close();
  }
}

const refused = (name: string, why: string): FinishError =>
  new FinishError(
    `Expected a PNG or SVG with transparency for your mark in ${name}, but ${why}. Nothing was changed.`,
    name,
  );

/** Into the meeting, and beside the finishes for the next one. Returns what proofs are made with from then on. */
export async function keepOwnMark(meetingFolder: string, stateRoot: string, png: Uint8Array): Promise<string> {
  const markPicture = await putIn(meetingFolder, png);
  await mkdir(stateRoot, { recursive: true });
  await writeAtomically(pathIn(stateRoot), png);
  return markPicture;
}

async function putIn(meetingFolder: string, png: Uint8Array): Promise<string> {
  const markPicture = await xxhash128(png);
  await writeAtomically(pathIn(meetingFolder), png);
  await amendAbout(meetingFolder, { markPicture });
  return markPicture;
}

/** The words alone again, here and in the next meeting. */
export async function letGoOwnMark(meetingFolder: string, stateRoot: string): Promise<typeof IN_WORDS> {
  await amendAbout(meetingFolder, { markPicture: IN_WORDS });
  await Promise.all([meetingFolder, stateRoot].map((folder) => rm(pathIn(folder), { force: true })));
  return IN_WORDS;
}
export const IN_WORDS = 'words';

/** A new meeting begins with the mark that was kept last; where none was, with words. */
export async function takeKeptMark(meetingFolder: string, stateRoot: string): Promise<void> {
  const png = await readFile(pathIn(stateRoot)).catch(() => null);
  if (png !== null) await putIn(meetingFolder, png);
}

export interface OwnMark {
  /** Hash of its bytes. */
  readonly picture: string;
  readonly path: string;
}

/** Null: the mark is words. Another picture than the one that was said is never used, and never silently none. */
export async function ownMarkOf(
  meetingFolder: string,
  { markPicture }: Pick<MeetingAbout, 'markPicture'>,
): Promise<OwnMark | null> {
  if (markPicture === undefined || markPicture === IN_WORDS) return null;
  const path = pathIn(meetingFolder);
  const png = await readFile(path).catch(() => null);
  if (png !== null && (await xxhash128(png)) === markPicture) return { picture: markPicture, path };
  const came = png === null ? 'is not there' : 'is another picture';
  throw new FinishError(
    `Expected this meeting's own mark in ${path}, but it ${came}. Say tyrewall finish "${dirname(path)}" --mark with your file again, or --mark-in-words.`,
    path,
  );
}
