/**
 * Takes out of a folder what shows or names what was taken down: files, lines of pages, lists of finding, and the papers beside a set
 * that was handed over. The pictures go last: killed anywhere, the next run still sees what the rest has to lose.
 */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import Papa from 'papaparse';
import type { RemovedThing } from '../../core/handover/law/index.js';
import { writeAtomically } from '../finish/atomically.js';
import { filesIn } from '../gallery/takeDown.js';

export interface ToClear {
  /** What to call a file in the proof, where it shows what was taken down; else null. Its name on this disk may tell a frame's own id. */
  readonly shows: (path: string) => string | null;
  /** Of a line or a whole text. */
  readonly names?: (text: string) => boolean;
}

/** @param isOurs by path in the folder; what somebody else laid there is not looked at */
export async function clearFolder(
  folder: string,
  { shows, names = () => false }: ToClear,
  isOurs: (path: string) => boolean = () => true,
): Promise<readonly RemovedThing[]> {
  const files = (await filesIn(folder)).filter(isOurs);
  const removed: RemovedThing[] = [];
  const [down, left] = [files.filter((path) => shows(path) !== null), files.filter((path) => shows(path) === null)];
  for (const home of new Set(left.filter((path) => /(?:^|\/)(?:captions\.csv|share\.json)$/.test(path)).map(dirname)))
    removed.push(...(await clearPapers(folder, home, files, shows)));
  for (const path of left.filter((one) => one.endsWith('.html')))
    removed.push(...(await withLess(folder, path, (text) => withoutLines(text, names))));
  for (const path of left.filter((one) => /(?:^|\/)find\/.*\.txt$/.test(one)))
    if (names(await readFile(join(folder, path), 'utf8'))) removed.push(await removeHashed(folder, path, path));
  for (const path of down) removed.push(await removeHashed(folder, path, shows(path)!));
  return removed;
}

/** Contact sheet, captions and the organiser's page: handed over again, they are drawn anew. */
async function clearPapers(folder: string, home: string, files: readonly string[], shows: ToClear['shows']) {
  const beside = (name: string): string => (home === '.' ? name : `${home}/${name}`);
  const isDown = (file: string): boolean => shows(beside(`pictures/${file}`)) !== null;
  const isAnyDown = files.some((path) => (home === '.' || path.startsWith(`${home}/`)) && shows(path) !== null);
  const captions = await withLess(folder, beside('captions.csv'), (text) => withoutRows(text, isDown));
  if (!isAnyDown && captions.length === 0) return [];
  const page = await withLess(folder, beside('share.json'), (text) => withoutShared(text, isDown));
  const sheet = beside('contact-sheet.pdf');
  return [...captions, ...page, ...(files.includes(sheet) ? [await removeHashed(folder, sheet, sheet)] : [])];
}

async function removeHashed(folder: string, path: string, what: string): Promise<RemovedThing> {
  const whole = join(folder, path);
  const removed = { what, ...(await hashed(whole)) };
  await rm(whole);
  return removed;
}

export async function hashed(path: string): Promise<Omit<RemovedThing, 'what'>> {
  const { size } = await stat(path);
  const hash = createHash('sha256');
  for await (const part of createReadStream(path)) hash.update(part as Buffer);
  return { sha256: hash.digest('hex'), bytes: size };
}

interface Less {
  readonly text: string;
  /** How many lines, rows or pictures it has no longer. */
  readonly out: number;
}

/** Nothing where there is no such file, or it loses nothing. */
async function withLess(folder: string, path: string, less: (text: string) => Less): Promise<readonly RemovedThing[]> {
  const before = await readFile(join(folder, path), 'utf8').catch(() => null);
  if (before === null) return [];
  const { text, out } = less(before);
  if (out === 0) return [];
  await writeAtomically(join(folder, path), text);
  const sha256 = createHash('sha256').update(before).digest('hex');
  return [{ what: `${path}, lines taken out: ${out}`, sha256, bytes: null }];
}

/** Pages are written so that one line is one card: it leaves with the picture it shows. */
function withoutLines(text: string, names: (line: string) => boolean): Less {
  const lines = text.split('\n');
  const left = lines.filter((line) => !names(line));
  return { text: left.join('\n'), out: lines.length - left.length };
}

function withoutRows(text: string, isDown: (file: string) => boolean): Less {
  const { data } = Papa.parse<string[]>(text, { skipEmptyLines: true });
  const file = data[0]?.indexOf('file') ?? -1;
  const left = data.filter((row, i) => i === 0 || !isDown(row[file] ?? ''));
  const mark = text.startsWith('\uFEFF') && !left[0]?.[0]?.startsWith('\uFEFF') ? '\uFEFF' : '';
  return { text: `${mark}${Papa.unparse(left, { newline: '\r\n' })}\r\n`, out: data.length - left.length };
}

function withoutShared(text: string, isDown: (file: string) => boolean): Less {
  try {
    const share = JSON.parse(text) as { readonly pictures: readonly { readonly file: string }[] };
    const pictures = share.pictures.filter(({ file }) => !isDown(file));
    return {
      text: `${JSON.stringify({ ...share, pictures }, null, 2)}\n`,
      out: share.pictures.length - pictures.length,
    };
  } catch {
    // No page is shown from a list that cannot be read.
    return { text, out: 0 };
  }
}

/** Without its number in a set, extension and cut: `20260919-104312-hx7-c4-0047`. */
export const finalName = (path: string): string =>
  basename(path)
    .replace(/\.[a-z0-9]+$/i, '')
    .replace(/-\d+x\d+$/, '')
    .replace(/^\d{2,4}-(?=\d{8}-|undated-)/, '');
