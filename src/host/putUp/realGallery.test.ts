/** The gallery as it is really made, put up: nothing it leads to is lost by the names it gets at the place. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { drawDay, GALLERY_ABOUT, galleryDay } from '../../../test/builders/galleryDay.js';
import { SHOWN_SHOP, shownGallery, writeShown } from '../../../test/builders/shownGallery.js';
import { crawl, firstOf, SLOW_LINE, untilFirstEntry } from '../../core/handover/putUp/index.js';
import { pagesOf } from '../../gallery/index.js';
import { writeFirstPages } from '../gallery/firstPages.js';
import { makeGallery } from '../gallery/index.js';
import { readStyle } from '../gallery/look.js';
import { folderPlace } from './folderPlace.js';
import { planFor, putUp } from './putUp.js';
import { MARK } from './testing/said.js';
import type { Place } from './types.js';

it('PU2, PU5: every page, picture and piece of data of a made gallery is found, when first pages stand and when all does', async () => {
  const [folder, web] = await Promise.all(
    ['meeting', 'web'].map((name) => mkdtemp(join(tmpdir(), `tyrewall-${name}-`))),
  );
  const state = galleryDay({ riders: 4 });
  await drawDay(state, folder!);
  const made = await makeGallery({ state, meetingFolder: folder!, secret: 'ab'.repeat(32) });
  const place = folderPlace({ kind: 'folder', folder: web! });
  const edition = GALLERY_ABOUT.firstDay;
  const read = (path: string): Promise<string | null> => readFile(join(web!, edition, path), 'utf8').catch(() => null);
  const seen: { readonly reached: number; readonly missing: number }[] = [];
  const watched: Place = {
    ...place,
    async put(path, ...more) {
      const placed = await place.put(path, ...more);
      if (path === `${edition}/index.html`) {
        const { reached, missing } = await crawl(read);
        seen.push({ reached: reached.length, missing: missing.length });
      }
      return placed;
    },
  };
  const options = {
    name: 'website',
    meetingFolder: folder!,
    withdrawn: new Set<string>(),
    mark: MARK,
    now: () => new Date(),
  };
  await putUp(edition, { ...options, place: watched });
  expect(seen.map(({ missing }) => missing)).toEqual([0, 0]);
  const { reached, missing } = await crawl(read);
  expect(missing).toEqual([]);
  expect(reached.filter((path) => /^rider\//.test(path))).toHaveLength(made.riders);
  // The script's data: what a page names for it is a folder that has its list.
  const entry = (await read('index.html'))!;
  const index = /data-index="([^"]+)"/.exec(entry)![1]!;
  expect(await read(`${index}top.txt`)).toMatch(/^find 1 /);
  // Cards of riders, whole lines of pages in that data, ask for faces by the names they have.
  const cards = (await read(`${index}cards-en-0.txt`)) ?? '';
  for (const [, path] of cards.matchAll(/(?:src|srcset|href)="([^" ]+)/g))
    expect(await read(path!), path).not.toBeNull();
  await Promise.all([folder!, web!].map((one) => rm(one, { recursive: true })));
}, 200_000);

it('PU5: of 120 riders, pages in all languages with one picture each stand within two minutes at 2 Mbit/s', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-meeting-'));
  const web = await mkdtemp(join(tmpdir(), 'tyrewall-web-'));
  // How many more pictures a rider has changes nothing of what goes up first.
  const gallery = shownGallery({ riders: 120, picturesEach: 3 });
  await writeShown(join(folder, 'made/gallery/shown'), gallery);
  const pages = pagesOf(firstOf(gallery), { shop: SHOWN_SHOP, style: await readStyle() });
  await writeFirstPages(pages, folder, 'shown', (path, text) => writeFile(path, text));
  const place = folderPlace({ kind: 'folder', folder: web });
  const options = {
    name: 'website',
    meetingFolder: folder,
    withdrawn: new Set<string>(),
    mark: MARK,
    now: () => new Date(),
  };
  const plan = await planFor('shown', { ...options, place });
  const until = untilFirstEntry(plan, SLOW_LINE)!;
  console.info(
    `The entry of 120 riders stands after ${(until.bytes / 1e6).toFixed(1)} MB in ${until.puts} files, reckoned ${Math.round(until.seconds)} s.`,
  );
  expect(plan.parts.map(({ name }) => name).slice(0, 3)).toEqual(['first pictures', 'first pages', 'first entry']);
  expect(((until.bytes + until.puts * SLOW_LINE.bytesPerFile) * 8) / 2e6).toBeLessThan(120);
  expect(until.seconds).toBeLessThan(120);
  await Promise.all([folder, web].map((one) => rm(one, { recursive: true })));
}, 200_000);
