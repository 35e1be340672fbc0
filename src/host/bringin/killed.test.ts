import { fork } from 'node:child_process';
import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { bringIn, verifyFolder } from './index.js';
import { contentOf, pathsBelow, putPictures, scratchFolder } from './testing/scratch.js';

const scratch = scratchFolder();
const child = fileURLToPath(new URL('./testing/bringInChild.ts', import.meta.url));
const rounds = 10;
const bytesPerSecond = 12_000_000;

/** Moments spread over the copying by the golden ratio: as good as random, and the same every time. */
const momentMs = (round: number): number => ((round * 0.618_033_988_75) % 1) * 900;

/** Resolves with true when it was killed, false when it was done before that. */
function killedAfter(ms: number): Promise<boolean> {
  const args = [scratch.path('card'), String(bytesPerSecond), scratch.path('a'), scratch.path('b')];
  const started = fork(child, args, { execArgv: ['--import', 'tsx'], stdio: ['ignore', 'ignore', 'inherit', 'ipc'] });
  started.once('message', () => void wait(ms).then(() => started.kill('SIGKILL')));
  return new Promise((resolve) => started.once('exit', (_, signal) => resolve(signal === 'SIGKILL')));
}

/** Files under their own names, with their inodes: a file copied twice would get another. */
async function standing(disk: string): Promise<ReadonlyMap<string, number>> {
  const root = scratch.path(disk, 'cards');
  const paths = (await pathsBelow(root).catch(() => [])).filter(
    (path) => !path.includes('/ascmhl/') && !path.includes('.tyrewall-part-'),
  );
  return new Map(await Promise.all(paths.map(async (path) => [path, (await lstat(join(root, path))).ino] as const)));
}

it('BI60: killed at any moment, again and again, it goes on: every byte right, nothing copied twice, no half file under its own name', async () => {
  await putPictures(
    scratch,
    'card',
    Array.from({ length: 40 }, (_, index) => index + 1),
    300_000,
  );
  const wanted = await contentOf(scratch.path('card'));
  let seen = new Map<string, number>();
  let kills = 0;
  for (let round = 1; round <= rounds; round++) {
    if (await killedAfter(momentMs(round))) kills++;
    const now = new Map([...(await standing('a'))].map(([path, inode]) => [`a/${path}`, inode]));
    for (const [path, inode] of await standing('b')) now.set(`b/${path}`, inode);
    for (const [path, inode] of seen) expect(now.get(path), `${path} after kill ${kills}`).toBe(inode);
    for (const disk of ['a', 'b']) {
      const found = [...(await contentOf(scratch.path(disk)))].filter(
        ([path]) => path.includes('DCIM') && !path.includes('.tyrewall-part-'),
      );
      for (const [path, hash] of found) expect(hash, path).toBe(wanted.get(path.slice(path.indexOf('DCIM'))));
    }
    seen = now;
  }
  // How many rounds were cut off depends on the machine's speed; one at least must have been.
  expect(kills).toBeGreaterThan(0);
  const report = (
    await bringIn({ cards: [scratch.path('card')], destinations: [scratch.path('a'), scratch.path('b')] })
  ).cards[0]!;
  for (const disk of ['a', 'b']) {
    expect(await readdir(scratch.path(disk, 'cards'))).toEqual([report.folder]);
    expect(await contentOf(scratch.path(disk, 'cards', report.folder))).toEqual(wanted);
    expect(await verifyFolder(scratch.path(disk))).toMatchObject({ verified: 40, isWhole: true });
  }
  const last = [...(await standing('a'))].map(([path, inode]) => [`a/${path}`, inode] as const);
  for (const [path, inode] of last) if (seen.has(path)) expect(inode, path).toBe(seen.get(path));
}, 240_000);
