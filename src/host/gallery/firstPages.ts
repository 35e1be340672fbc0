/** Pages with one best picture of each rider, beside the gallery: a place that has nothing yet gets them first (PU5). */
import { mkdir, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Page } from '../../gallery/index.js';
import { firstPagesOf } from '../putUp/standing.js';
import { filesIn } from './takeDown.js';

/** The first page comes last: without it nothing of them is used. */
export async function writeFirstPages(
  pages: readonly Page[],
  meetingFolder: string,
  edition: string,
  write: (path: string, text: string) => Promise<void>,
): Promise<void> {
  const folder = firstPagesOf(meetingFolder, edition);
  const wanted = new Set(pages.map(({ path }) => path));
  const others = (await filesIn(folder)).filter((path) => !wanted.has(path));
  for (const path of others) await rm(join(folder, path), { force: true });
  const folders = new Set(pages.map(({ path }) => dirname(join(folder, path))));
  for (const one of folders) await mkdir(one, { recursive: true });
  for (const page of [...pages].reverse()) await write(join(folder, page.path), page.html);
}
