import { fork } from 'node:child_process';
import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { bringIn, verifyFolder } from './index.js';
import { killSteps } from './testing/killSteps.js';
import { bytesOf, contentOf, pathsBelow, pictureAt, putPictures, scratchFolder } from './testing/scratch.js';

const scratch = scratchFolder();
const child = fileURLToPath(new URL('./testing/killedChild.ts', import.meta.url));
const pictures = 40;
/** Larger than a block of the copying, so that a file can be cut off between two. */
const large = [1, 11, 21, 31];
const largeBytes = 4_500_000;

/** Resolves with what ended the process: SIGKILL where the step was reached, null where it ran to its end. */
function killedAt(step: number): Promise<NodeJS.Signals | null> {
  const args = [String(step), scratch.path('card'), scratch.path('a'), scratch.path('b')];
  const started = fork(child, args, { execArgv: ['--import', 'tsx'], stdio: ['ignore', 'ignore', 'inherit', 'ipc'] });
  return new Promise((resolve) => started.once('exit', (_, signal) => resolve(signal)));
}

/** Pictures under their own names on either disk, with their inodes: a file copied twice would get another. */
async function standing(): Promise<ReadonlyMap<string, number>> {
  const found = new Map<string, number>();
  for (const disk of ['a', 'b']) {
    const root = scratch.path(disk, 'cards');
    for (const path of await pathsBelow(root).catch(() => [])) {
      if (!path.includes('/ascmhl/') && !path.includes('.tyrewall-part-'))
        found.set(`${disk}/cards/${path}`, (await lstat(join(root, path))).ino);
    }
  }
  return found;
}

async function putCard(): Promise<ReadonlyMap<string, string>> {
  const numbers = Array.from({ length: pictures }, (_, index) => index + 1);
  await putPictures(scratch, 'card', numbers);
  for (const number of large) await scratch.put(`card/${pictureAt(number)}`, bytesOf(number, largeBytes + number));
  return contentOf(scratch.path('card'));
}

it('BI60: killed at each step, one after another, it goes on: every byte right, nothing copied twice, no half file under its own name', async () => {
  const wanted = await putCard();
  let seen: ReadonlyMap<string, number> = new Map();
  for (const [index, step] of killSteps.entries()) {
    expect(await killedAt(index), `the step was not reached: ${step.name}`).toBe('SIGKILL');
    const now = await standing();
    for (const [path, inode] of seen) expect(now.get(path), `${path}, killed when ${step.name}`).toBe(inode);
    for (const disk of ['a', 'b']) {
      for (const [path, hash] of await contentOf(scratch.path(disk)))
        if (!path.includes('.tyrewall-part-'))
          expect(hash, `${path}, killed when ${step.name}`).toBe(wanted.get(path.slice(path.indexOf('DCIM'))));
    }
    seen = now;
  }
  expect(seen.size).toBe(2 * pictures);
  const destinations = [scratch.path('a'), scratch.path('b')];
  const report = (await bringIn({ cards: [scratch.path('card')], destinations })).cards[0]!;
  for (const disk of ['a', 'b']) {
    expect(await readdir(scratch.path(disk, 'cards'))).toEqual([report.folder]);
    expect(await contentOf(scratch.path(disk, 'cards', report.folder))).toEqual(wanted);
    expect(await verifyFolder(scratch.path(disk))).toMatchObject({ verified: pictures, isWhole: true });
  }
  expect(await standing()).toEqual(seen);
}, 480_000);
