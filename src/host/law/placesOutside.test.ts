import { mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { publicIdsOf } from '../gallery/secret.js';
import { filesIn } from '../gallery/takeDown.js';
import { keepPlace, openPlace, putUp } from '../putUp/index.js';
import { placesPutUpTo } from './placesOutside.js';

const idOf = publicIdsOf('6'.repeat(64));
const [down, stays] = [idOf('frame', 'one'), idOf('frame', 'two')];
let root: string;
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-law-places-'));
});
afterEach(() => rm(root, { recursive: true }));

it('LW10: a place it was put up to lets go of it; one that cannot be reached is pending until it can', async () => {
  const meetingFolder = join(root, 'meeting');
  const gallery = join(meetingFolder, 'made/gallery/day');
  const web = join(root, 'web');
  await mkdir(join(gallery, 'proof'), { recursive: true });
  await mkdir(web);
  for (const id of [down, stays]) await writeFile(join(gallery, 'proof', `${id}.jpg`), id);
  const lines = [down, stays].map((id) => `<img src="proof/${id}.jpg">`);
  await writeFile(join(gallery, 'index.html'), `${lines.join('\n')}\n`);
  await keepPlace(root, 'web', { kind: 'folder', folder: web });
  const place = await openPlace({ kind: 'folder', folder: web });
  const now = () => new Date(0);
  const mark = idOf('meeting', 'm');
  await putUp('day', { place, name: 'web', meetingFolder, withdrawn: new Set(), mark, now });
  await place.close();
  const [found] = await placesPutUpTo({ meetingFolder, stateRoot: root, meeting: 'm', idOf, now });
  const request = { frames: new Map(), pictures: new Set([down]), ids: new Set([down]) };
  await keepPlace(root, 'web', { kind: 'folder', folder: join(root, 'gone') });
  expect((await found!.clear(request)).pending).toMatch(/take-down --again/);
  await rename(web, join(root, 'gone'));
  const cleared = await found!.clear(request);
  expect(cleared).toMatchObject({ pending: null, removed: [{ what: expect.stringContaining(down), bytes: 32 }] });
  const left = (await filesIn(join(root, 'gone'))).join('\n');
  expect(left).not.toContain(down);
  expect(left).toContain(stays);
});
