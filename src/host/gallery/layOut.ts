/**
 * The edition's files in another folder, as they are: what is shown no more goes first, pages come after their pictures, the
 * first page last. Laid out again, only what changed is written, and what somebody put beside it stays.
 */
import { copyFile, mkdir, readFile, rename, rm, stat, utimes } from 'node:fs/promises';
import { dirname, join, resolve, sep } from 'node:path';
import { GalleryError } from './galleryError.js';
import { isOwnFile } from './ownFiles.js';
import { filesIn } from './takeDown.js';

export interface LaidOut {
  readonly written: number;
  readonly removed: number;
}

export async function layOut(edition: string, meetingFolder: string, out: string): Promise<LaidOut> {
  refuseInside(meetingFolder, out);
  const files = await filesIn(edition);
  const wanted = new Set(files);
  const there = await filesIn(out);
  const gone = there.filter((path) => isOwnFile(path) && !wanted.has(path));
  await Promise.all(gone.map((path) => rm(join(out, path), { force: true })));
  let written = 0;
  for (const path of [...files].sort(byRank)) if (await lay(join(edition, path), join(out, path))) written += 1;
  return { written, removed: gone.length };
}

/** Pictures and data, pages, first pages of the languages, the first page. */
const rankOf = (path: string): number => {
  if (path === 'index.html') return 3;
  if (path.endsWith('/index.html')) return 2;
  return path.endsWith('.html') ? 1 : 0;
};
const byRank = (a: string, b: string): number => rankOf(a) - rankOf(b) || (a < b ? -1 : 1);

/** False where the same file lies there. */
async function lay(from: string, to: string): Promise<boolean> {
  const [own, other] = await Promise.all([stat(from), stat(to).catch(() => null)]);
  const isSameTime = other !== null && Math.abs(own.mtimeMs - other.mtimeMs) < 2000;
  if (other !== null && own.size === other.size && (isSameTime || (await sameBytes(from, to)))) return false;
  await mkdir(dirname(to), { recursive: true });
  const unfinished = `${to}.unfinished`;
  await copyFile(from, unfinished);
  await utimes(unfinished, own.atime, own.mtime);
  await rename(unfinished, to);
  return true;
}

const sameBytes = async (a: string, b: string): Promise<boolean> => (await readFile(a)).equals(await readFile(b));

/** A gallery is for everybody, the meeting's folder for nobody else. */
function refuseInside(meetingFolder: string, out: string): void {
  const [meeting, folder] = [resolve(meetingFolder), resolve(out)];
  if (folder !== meeting && !folder.startsWith(meeting + sep) && !meeting.startsWith(folder + sep)) return;
  const sentence = `Expected a folder outside the meeting for its gallery but got ${out}. What lies there is put on a web server whole: choose another place.`;
  throw new GalleryError(sentence, out);
}
