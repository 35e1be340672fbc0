import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FIRST_FINISH, PLAIN_FINISH } from '../../../core/finish/index.js';
import { finishesPathOf, openKeptFinishes } from './index.js';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-finishes-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));
const at = () => finishesPathOf(join(folder, 'state'));
const LOW_SUN = { ...FIRST_FINISH, name: 'low sun', warmth: -0.1 };

describe('finishes kept for other meetings', () => {
  it('LK20: none is there at first, and reading makes no file', async () => {
    expect(await openKeptFinishes(at()).read()).toEqual([]);
    expect(await readdir(folder)).toEqual([]);
  });

  it('LK20: what was kept is there for the next start, by name, in one file', async () => {
    const kept = openKeptFinishes(at());
    await Promise.all([FIRST_FINISH, LOW_SUN, PLAIN_FINISH].map((finish) => kept.keep(finish)));
    expect(await openKeptFinishes(at()).read()).toEqual([PLAIN_FINISH, LOW_SUN, FIRST_FINISH]);
    expect(await readdir(join(folder, 'state'))).toEqual(['finishes.json']);
  });

  it('LK20: one of the same name stands in for it; let go, it is gone', async () => {
    const kept = openKeptFinishes(at());
    await kept.keep(LOW_SUN);
    const warmer = { ...LOW_SUN, name: 'Low Sun', warmth: 0.2 };
    expect(await kept.keep(warmer)).toEqual([warmer]);
    expect(await kept.letGo('low sun ')).toEqual([]);
  });

  it.each([
    ['{"v": 1, "finishes": [', /not JSON.*left as it is/],
    [JSON.stringify({ v: 1, finishes: [{ ...LOW_SUN, warmth: 9 }] }), /at finishes\.0\.warmth: .*1 or less/],
    [JSON.stringify({ v: 1 }), /at finishes: /],
    [JSON.stringify({ v: 2, looks: [] }), /newer Tyrewall \(format 2, this one knows 1\)/],
  ])('LK20: %s is refused with a sentence and never written over', async (written, words) => {
    const path = join(folder, 'finishes.json');
    await writeFile(path, written);
    const kept = openKeptFinishes(path);
    await expect(kept.read()).rejects.toThrow(words);
    await expect(kept.keep(LOW_SUN)).rejects.toThrow(words);
    expect(await readFile(path, 'utf8')).toBe(written);
  });

  it('LK20: a place that cannot be written to is told of', async () => {
    await writeFile(join(folder, 'state'), 'a file where a folder should be');
    await expect(openKeptFinishes(at()).keep(LOW_SUN)).rejects.toThrow(/Expected to (read|write) your finishes/);
  });
});
