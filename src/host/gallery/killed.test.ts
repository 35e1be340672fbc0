import { mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawDay, galleryDay } from '../../../test/builders/galleryDay.js';
import { killedHandOver } from '../../../test/builders/killedHandOver.js';
import { GalleryError, makeGallery } from './index.js';
import { filesIn } from './takeDown.js';

const RIDERS = 8;
const SECRET = 'ab'.repeat(32);
const state = galleryDay({ riders: RIDERS });
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-gallery-killed-'));
  await drawDay(state, folder);
});
afterAll(() => rm(folder, { recursive: true }));

const edition = () => join(folder, 'made/gallery', state.about.firstDay);
const isUnfinished = (path: string) => path.includes('.unfinished-');
const make = () => makeGallery({ state, meetingFolder: folder, secret: SECRET });

/** Files under their final names, with their inodes: one made again would get another. */
async function standing(): Promise<ReadonlyMap<string, number>> {
  const paths = (await filesIn(edition())).filter((path) => !isUnfinished(path) && !path.startsWith('look/'));
  return new Map(
    await Promise.all(paths.map(async (path) => [path, (await stat(join(edition(), path))).ino] as const)),
  );
}

async function expectWhole(path: string): Promise<void> {
  const bytes = await readFile(join(edition(), path));
  if (path.endsWith('.jpg')) {
    expect(bytes.subarray(0, 2).toString('hex') + bytes.subarray(-2).toString('hex'), path).toBe('ffd8ffd9');
  } else if (path.endsWith('.html')) expect(bytes.toString().trimEnd(), path).toMatch(/<\/html>$/);
}

it('HO11: killed while the gallery is made, again and again, it goes on: no half file under a final name, what is done is not made again', async () => {
  let seen: ReadonlyMap<string, number> = new Map<string, number>();
  let kills = 0;
  const goesOn = (now: ReadonlyMap<string, number>) => {
    // A picture that was in hand when the kill came may stand and not be noted: at most one for every child.
    const again = [...seen].filter(([path, inode]) => path.endsWith('.jpg') && now.get(path) !== inode);
    expect(again.length, `pictures made again after kill ${kills}`).toBeLessThanOrEqual(availableParallelism());
    for (const path of seen.keys()) expect(now.has(path), path).toBe(true);
  };
  // Steps are proofs (16 of them, made in the first round), pictures and pages; what stands is a step as well.
  for (const afterSteps of [20, 31, 44]) {
    if (await killedHandOver({ folder, what: 'gallery', riders: RIDERS, afterSteps })) kills += 1;
    const now = await standing();
    for (const path of now.keys()) await expectWhole(path);
    goesOn(now);
    seen = now;
  }
  expect(kills).toBeGreaterThan(0);
  expect([...seen.keys()].filter((path) => path.endsWith('.jpg')).length).toBeGreaterThan(10);
  expect(await make()).toMatchObject({ failed: [], wasStopped: false });
  const last = await standing();
  for (const path of last.keys()) await expectWhole(path);
  goesOn(last);
  expect((await readdir(edition(), { recursive: true })).filter(isUnfinished)).toEqual([]);
  expect(await make()).toMatchObject({ picturesMade: 0, removed: 0 });
}, 300_000);

it('HO20: a proof that cannot be read any more is taken away with a sentence, and the next run makes it anew', {
  timeout: 120_000,
}, async () => {
  await make();
  const proofs = join(folder, 'made/proofs');
  const rotten = join(proofs, (await readdir(proofs))[0]!);
  const bytes = await readFile(rotten);
  // Its head says what it was made of, and from first marker to last it looks whole; what lies between ends at once.
  const scan = bytes.lastIndexOf(Buffer.from([0xff, 0xda])) + 16;
  const end = bytes.subarray(-2);
  await writeFile(rotten, Buffer.concat([bytes.subarray(0, scan), end, bytes.subarray(scan + 2, -2), end]));
  await rm(edition(), { recursive: true });
  const refused = make();
  await expect(refused).rejects.toThrow(GalleryError);
  await expect(refused).rejects.toThrow(
    /^Expected a whole proof in .*could not be read .*It was removed; make the gallery again/,
  );
  expect(await make()).toMatchObject({ failed: [], wasStopped: false });
});
