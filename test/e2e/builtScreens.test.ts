import { mkdir, mkdtemp, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { isBuilt } from './builtScreens.js';

let root: string;
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-built-'));
});
afterEach(() => rm(root, { recursive: true }));

async function fileAt(name: string, hour: number): Promise<void> {
  const [path, at] = [join(root, name), new Date(Date.UTC(2031, 4, 17, hour))];
  await mkdir(join(path, '..'), { recursive: true });
  await writeFile(path, '');
  await utimes(path, at, at);
}

describe('screens built for a browser', () => {
  it('are built where there are none, and anew where anything they are made of has changed; a test is no part of them', async () => {
    const isUpToDate = () => isBuilt(join(root, 'page.html'), [join(root, 'source'), join(root, 'lock.json')]);
    await fileAt('source/deep/sheet.tsx', 9);
    await fileAt('lock.json', 8);
    expect(await isUpToDate()).toBe(false);
    await fileAt('page.html', 10);
    expect(await isUpToDate()).toBe(true);
    await fileAt('source/deep/sheet.test.tsx', 11);
    expect(await isUpToDate()).toBe(true);
    await fileAt('source/deep/other.tsx', 11);
    expect(await isUpToDate()).toBe(false);
  });
});
