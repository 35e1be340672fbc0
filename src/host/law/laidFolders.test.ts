import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { FrameId } from '../../core/ids.js';
import { OutFolder } from '../finish/index.js';
import { forgetLaid, placesLaid, rememberLaid } from './laidFolders.js';
import { toClearWith } from './placesHere.js';

const [down, stays] = ['1'.repeat(32), '2'.repeat(32)] as [FrameId, FrameId];
const id = 'a'.repeat(32);
const request = { frames: new Map([[down, id]]), pictures: new Set([id]), ids: new Set([id]) };
let root: string;
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-laid-'));
});
afterEach(() => rm(root, { recursive: true }));
const places = (gone?: string) => placesLaid(root, toClearWith(new Map()), gone ?? null);

it('LW10: what was taken out for other programs goes, under no name of its own in the proof; what was changed there is said', async () => {
  const folder = join(root, 'out');
  const out = await OutFolder.open(folder);
  for (const [name, frame] of [
    ['one.jpg', down],
    ['two.jpg', down],
    ['three.jpg', stays],
  ] as const)
    await out.lay({ path: `n-ka/${name}`, content: { text: name }, frame });
  await out.remember();
  await writeFile(join(folder, 'n-ka/two.jpg'), 'somebody worked on it');
  await rememberLaid(root, 'taken-out', folder);
  await rememberLaid(root, 'taken-out', folder);
  const [place, ...more] = await places();
  expect(more).toEqual([]);
  const { removed, pending } = await place!.clear(request);
  expect(removed).toMatchObject([
    { what: `n-ka/${id}.jpg`, bytes: 7, sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
  ]);
  expect(pending).toMatch(/1 of the pictures were changed there and were left/);
  expect((await readdir(join(folder, 'n-ka'))).sort()).toEqual(['three.jpg', 'two.jpg']);
});

it('LW10: of a gallery laid elsewhere only its own files are touched; a folder that is not there waits, or is said to be gone', async () => {
  const folder = join(root, 'stick', 'web');
  await rememberLaid(root, 'gallery', folder);
  const [place] = await places();
  expect(place!.place).toBe('laid in …/stick/web');
  expect((await place!.clear(request)).pending).toMatch(/--gone/);
  await mkdir(join(folder, 'proof'), { recursive: true });
  for (const path of [`proof/${id}.jpg`, `${id}.pdf`]) await writeFile(join(folder, path), path);
  expect(await place!.clear(request)).toMatchObject({ removed: [{ what: `proof/${id}.jpg` }], pending: null });
  expect(await readdir(folder)).toEqual([`${id}.pdf`, 'proof'].sort());
  await rm(folder, { recursive: true });
  expect(await (await places(folder))[0]!.clear(request)).toEqual({ removed: [], pending: null });
  await forgetLaid(root, folder);
  expect(await places()).toEqual([]);
});
