/**
 * Two copies of one meeting, put side by side: the second disk's, or a colleague's laptop's. Append-only files only
 * ever grow, so the longer of two that begin alike is the newer; files nobody else has are copied; nothing is lost.
 * The cards' own files are not copied here, bringing in does that.
 */
import { createHash } from 'node:crypto';
import { constants, copyFile, mkdir, open, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { PersonId } from '../../core/ids.js';
import { flushFolder } from '../logbook/index.js';
import { readAbout, writeAbout } from './about.js';
import { MeetingError } from './meetingError.js';
import { personPath, readPeople } from './people.js';
import type { MeetingAbout } from './types.js';
import { writeWhole } from './writeWhole.js';

export interface BroughtTogether {
  /** Files that `to` did not have, or had shorter. */
  readonly changedFiles: number;
  readonly notices: readonly string[];
}

/** Measurements are large, brought often, and can be made again: the end of what both have is enough to compare. */
const MEASURED_COMPARED_BYTES = 65_536;

/** Brings what `from` knows into `to`; call it both ways to have both know all. `to` may be an empty folder. */
export async function bringTogether(from: string, to: string): Promise<BroughtTogether> {
  const about = await readAbout(from);
  await sameMeeting(about, from, to);
  const log = await bringAppendOnly(join(from, 'log'), join(to, 'log'), Number.POSITIVE_INFINITY);
  const measured = await bringAppendOnly(join(from, 'measured'), join(to, 'measured'), MEASURED_COMPARED_BYTES);
  const mark = await bringMark(from, to);
  const people = await bringPeople(join(from, 'people'), join(to, 'people'));
  const secrets = await bringSecrets(join(from, 'people'), join(to, 'people'));
  return {
    changedFiles: log.changedFiles + measured.changedFiles + mark + people + secrets,
    notices: [...log.notices, ...measured.notices],
  };
}

/** A folder without a `meeting.json` (cards were copied there first) becomes this meeting's. */
async function sameMeeting(about: MeetingAbout, from: string, to: string): Promise<void> {
  await makeFolder(to);
  const isThere = await stat(join(to, 'meeting.json')).catch(() => null);
  if (isThere === null) return writeAbout(to, about);
  const other = await readAbout(to);
  if (other.id === about.id) return;
  throw new MeetingError(
    `Expected the same meeting in both folders but ${from} holds “${about.name}” (${about.id}) and ${to} holds “${other.name}” (${other.id}). Nothing was copied.`,
    { path: to },
  );
}

/** The photographer's own mark, where the other has none. */
async function bringMark(from: string, to: string): Promise<number> {
  const [source, target] = [join(from, 'mark.png'), join(to, 'mark.png')];
  const isThere = await stat(source).catch(() => null);
  if (isThere === null || (await stat(target).catch(() => null))) return 0;
  await copyFile(source, target, constants.COPYFILE_EXCL);
  return 1;
}

/** Only the last folder is made: where its parent is missing, a disk is not plugged in. */
async function makeFolder(folder: string): Promise<void> {
  await mkdir(folder).catch((cause: NodeJS.ErrnoException) => {
    if (cause.code === 'EEXIST') return;
    const what = cause.code === 'ENOENT' ? 'the disk that should hold it is not there' : cause.message;
    const sentence = `Expected to keep a copy of the meeting in ${folder} but ${what}. Plug it in; the copy is brought up to date by itself.`;
    throw new MeetingError(sentence, { path: folder, cause });
  });
}

async function bringAppendOnly(from: string, to: string, comparedBytes: number): Promise<BroughtTogether> {
  const names = (await readdir(from).catch(() => [] as string[])).filter((name) => name.endsWith('.jsonl')).sort();
  if (names.length > 0) await mkdir(to, { recursive: true });
  const notices: string[] = [];
  let changedFiles = 0;
  for (const name of names) {
    const outcome = await bringFile(join(from, name), to, name, comparedBytes);
    if (outcome !== 'already-there') changedFiles++;
    if (outcome === 'kept-both') {
      notices.push(`${name} differs between ${from} and ${to} although both should begin alike; both were kept.`);
    }
  }
  if (changedFiles > 0) await flushFolder(to);
  return { changedFiles, notices };
}

type Brought = 'already-there' | 'copied' | 'grown' | 'kept-both';

async function bringFile(from: string, folder: string, name: string, comparedBytes: number): Promise<Brought> {
  const to = join(folder, name);
  const theirs = (await stat(from)).size;
  const ours = (await stat(to).catch(() => null))?.size ?? null;
  if (ours === null) {
    await writeFlushed(to, await readRange(from, 0, theirs), 'wx');
    return 'copied';
  }
  const common = Math.min(ours, theirs);
  const start = Math.max(0, common - comparedBytes);
  const isAlike = (await readRange(from, start, common)).equals(await readRange(to, start, common));
  if (!isAlike) return keepBoth(await readRange(from, 0, theirs), folder, name);
  if (theirs <= ours) return 'already-there';
  await writeFlushed(to, await readRange(from, ours, theirs), 'r+', ours);
  return 'grown';
}

async function readRange(path: string, start: number, end: number): Promise<Buffer> {
  const handle = await open(path, 'r');
  try {
    const bytes = Buffer.alloc(end - start);
    const { bytesRead } = await handle.read(bytes, 0, bytes.length, start);
    return bytes.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}

/** Named by its content, so that bringing together again finds it there. */
async function keepBoth(theirs: Buffer, folder: string, name: string): Promise<Brought> {
  const mark = createHash('sha256').update(theirs).digest('hex').slice(0, 8);
  const beside = join(folder, name.replace(/\.jsonl$/, `.other-${mark}.jsonl`));
  const isThere = await stat(beside).catch(() => null);
  if (isThere !== null) return 'already-there';
  await writeFlushed(beside, theirs, 'wx');
  return 'kept-both';
}

/** At a place of its own, so that two who bring the same lines at once write the same bytes, not twice as many. */
async function writeFlushed(path: string, bytes: Uint8Array, flags: 'wx' | 'r+', at = 0): Promise<void> {
  const handle = await open(path, flags, 0o644);
  try {
    for (let done = 0; done < bytes.length; ) {
      done += (await handle.write(bytes, done, bytes.length - done, at + done)).bytesWritten;
    }
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Tombstones first; then whoever is not erased, as changed last. Returns how many files changed. */
async function bringPeople(from: string, to: string): Promise<number> {
  const theirs = await readPeople(from);
  const ours = await readPeople(to);
  if (theirs.people.size + theirs.erased.size === 0) return 0;
  await mkdir(to, { recursive: true });
  let changed = 0;
  for (const id of theirs.erased) if (await bringTombstone(id, from, to, ours.erased)) changed++;
  for (const [id, person] of theirs.people) {
    const known = ours.people.get(id);
    if (ours.erased.has(id) || (known !== undefined && known.changedAt >= person.changedAt)) continue;
    await writeWhole(personPath(to, id), `${JSON.stringify(person, null, 2)}\n`);
    changed++;
  }
  return changed;
}

async function bringTombstone(id: PersonId, from: string, to: string, have: ReadonlySet<PersonId>): Promise<boolean> {
  await rm(personPath(to, id), { force: true });
  if (have.has(id)) return false;
  const name = `${id}.erased.json`;
  await copyFile(join(from, name), join(to, name), constants.COPYFILE_FICLONE);
  await flushFolder(to);
  return true;
}

/** Without the secret, public addresses handed out could not be made again. One that is there already is kept. */
async function bringSecrets(from: string, to: string): Promise<number> {
  const names = (await readdir(from).catch(() => [] as string[])).filter((name) => name.endsWith('.secret'));
  const have = new Set(await readdir(to).catch(() => [] as string[]));
  const wanted = names.filter((name) => !have.has(name));
  if (wanted.length === 0) return 0;
  await mkdir(to, { recursive: true });
  for (const name of wanted) await copyFile(join(from, name), join(to, name), constants.COPYFILE_EXCL);
  await flushFolder(to);
  return wanted.length;
}
