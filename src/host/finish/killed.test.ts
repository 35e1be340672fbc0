import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawDay, galleryDay } from '../../../test/builders/galleryDay.js';
import { killedHandOver } from '../../../test/builders/killedHandOver.js';
import { makeProofs } from './index.js';

const RIDERS = 14;
const state = galleryDay({ riders: RIDERS });
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-finish-killed-'));
  await drawDay(state, folder);
});
afterAll(() => rm(folder, { recursive: true }));

/** Proofs under their final names, with their inodes: one made again would get another. */
async function standing(): Promise<ReadonlyMap<string, number>> {
  const proofs = join(folder, 'made/proofs');
  const names = (await readdir(proofs).catch(() => [])).filter((name) => name.endsWith('.jpg'));
  return new Map(await Promise.all(names.map(async (name) => [name, (await stat(join(proofs, name))).ino] as const)));
}

it('HO11: killed while proofs are made, again and again, it goes on: no half file under a final name, none made twice', async () => {
  let seen = new Map<string, number>();
  let kills = 0;
  for (const after of [2, 4, 7]) {
    if (await killedHandOver({ folder, what: 'proofs', riders: RIDERS, afterSteps: seen.size + after })) kills += 1;
    const now = await standing();
    for (const [name, inode] of seen) expect(now.get(name), `${name} after kill ${kills}`).toBe(inode);
    for (const name of now.keys()) {
      const bytes = await readFile(join(folder, 'made/proofs', name));
      expect(bytes.subarray(0, 2).toString('hex') + bytes.subarray(-2).toString('hex'), name).toBe('ffd8ffd9');
    }
    seen = new Map(now);
  }
  // How many were cut off before the end depends on the machine's speed; one at least must have been.
  expect(kills).toBeGreaterThan(0);
  expect(seen.size).toBeGreaterThan(0);
  const report = await makeProofs(state, { meetingFolder: folder });
  expect(report).toMatchObject({ failed: [], wasStopped: false });
  expect(report.alreadyThere).toBeGreaterThanOrEqual(seen.size);
  const last = await standing();
  expect(last.size).toBe(report.made + report.alreadyThere);
  for (const [name, inode] of seen) expect(last.get(name), name).toBe(inode);
  expect((await readdir(join(folder, 'made/proofs'))).length).toBe(last.size);
}, 300_000);
