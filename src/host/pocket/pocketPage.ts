/** The built pocket page, and the page with a day inside: one file that needs neither a server nor a signal. */
import { copyFile, mkdir, readdir, readFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { codeOfDay, type PocketDay } from '../../core/plan/pocket/index.js';
import { zlibSqueezer } from './squeezer.js';

/** A phone opens no larger file gladly, and some mails refuse it. */
export const MOST_FILE_BYTES = 1_500_000;

const HERE = dirname(fileURLToPath(import.meta.url));
/** In the package the built page lies two folders above `dist/src`; in the working tree in `dist`. */
const PLACES = ['../../../pocket', '../../../dist/pocket'].map((path) => resolve(HERE, path));
const DAY_PLACE = '<script type="text/plain" id="day"></script>';
const MANIFEST = /\s*<link rel="manifest"[^>]*>/;

export class PocketPageError extends Error {
  override readonly name = 'PocketPageError';
}

/** The folder with the page's static files, to be put beside the gallery. */
export async function pocketFolder(): Promise<string> {
  for (const place of PLACES) if ((await pageIn(place)) !== null) return place;
  throw new PocketPageError(
    `Expected the built pocket page in ${PLACES.join(' or ')} but it is not there. Say npm run build, then try again.`,
  );
}

const pageIn = (folder: string): Promise<string | null> =>
  readFile(resolve(folder, 'index.html'), 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });

/** Copies the page's static files, and says what to do with them. */
export async function writePocketFolder(to: string): Promise<string> {
  const from = await pocketFolder();
  await mkdir(to, { recursive: true });
  const names = await readdir(from);
  for (const name of names) await copyFile(join(from, name), join(to, name));
  return `${names.length} files of the pocket page lie in ${to}. Put that folder beside the gallery, over HTTPS.`;
}

/** The page with this day inside, crops and all. */
export async function pocketFile(day: PocketDay): Promise<string> {
  const page = (await pageIn(await pocketFolder()))!;
  const { code } = await codeOfDay(day, zlibSqueezer);
  const parts = page.split(DAY_PLACE);
  if (parts.length !== 2)
    throw new PocketPageError(`Expected one place for a day in the pocket page but found ${parts.length - 1}.`);
  const file = parts.join(DAY_PLACE.replace('></', () => `>${code}</`)).replace(MANIFEST, '');
  const bytes = Buffer.byteLength(file);
  if (bytes <= MOST_FILE_BYTES) return file;
  throw new PocketPageError(
    `Expected a pocket page of at most ${MOST_FILE_BYTES} bytes but ${day.meeting} makes ${bytes}. Make its small pictures smaller.`,
  );
}
