/** A meeting's folder with a made gallery in it, and what must hold of a place whenever one looks. */
import { createHash } from 'node:crypto';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { expect } from 'vitest';
import { galleryFiles, type MadeSpec } from '../../../../test/builders/madeGallery.js';
import { crawl, idsIn } from '../../../core/handover/putUp/index.js';
import { firstPagesOf } from '../standing.js';
import type { Place } from '../types.js';
import { EDITION } from './said.js';

/** Pictures are so many times longer than the builder's, so that a kill may come while one is on its way. */
export async function layGallery(meetingFolder: string, spec: MadeSpec, timesLonger = 1): Promise<void> {
  const folder = join(meetingFolder, 'made', 'gallery', EDITION);
  const first = firstPagesOf(meetingFolder, EDITION);
  await rm(folder, { recursive: true, force: true });
  await rm(first, { recursive: true, force: true });
  const lay = async (root: string, path: string, content: Buffer): Promise<void> => {
    await mkdir(dirname(join(root, path)), { recursive: true });
    await writeFile(join(root, path), content);
  };
  for (const [path, content] of galleryFiles(spec)) {
    const isPicture = /\.(?:jpg|webp)$/.test(path);
    await lay(folder, path, isPicture ? Buffer.concat(Array.from({ length: timesLonger }, () => content)) : content);
  }
  const riders = spec.riders.map((one) => ({ ...one, pictures: one.pictures.slice(0, 1) }));
  for (const [path, content] of galleryFiles({ ...spec, riders }))
    if (path.endsWith('.html')) await lay(first, path, content);
}

/** Every file that has its final name is whole, and the entry leads only to files that are there. */
export async function expectWhole(place: Place): Promise<readonly string[]> {
  const read = async (path: string) => {
    const bytes = await place.read(`${EDITION}/${path}`);
    return bytes === null ? null : Buffer.from(bytes);
  };
  const { missing, reached } = await crawl(async (path) => (await read(path))?.toString() ?? null);
  expect(missing).toEqual([]);
  const paths = (await place.list(EDITION)).map(({ path }) => path.slice(EDITION.length + 1));
  for (const path of paths.filter((one) => !one.includes('.unfinished-'))) {
    const bytes = (await read(path))!;
    if (path.endsWith('.html')) expect(bytes.toString(), path).toMatch(/<\/html>\n$/);
    const tag = /\.([0-9a-f]{10})\.[a-z0-9]+$/.exec(path)?.[1];
    if (tag !== undefined) expect(createHash('sha256').update(bytes).digest('hex').slice(0, 10), path).toBe(tag);
  }
  return reached;
}

/** Files at the place that say in their names or pages what was taken down. */
export async function expectGone(place: Place, withdrawn: ReadonlySet<string>): Promise<void> {
  const isDown = (text: string): boolean => idsIn(text).some((id) => withdrawn.has(id));
  for (const { path } of await place.list('')) {
    expect(isDown(path), path).toBe(false);
    if (/\.(?:html|txt)$/.test(path))
      expect(isDown(Buffer.from((await place.read(path))!).toString()), path).toBe(false);
  }
}
