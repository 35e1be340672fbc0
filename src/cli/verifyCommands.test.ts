import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { bringIn } from '../host/bringin/index.js';
import { pictureAt, putPictures, scratchFolder } from '../host/bringin/testing/scratch.js';
import { addDiskCommand, mendCommand, verifyCommand } from './verifyCommands.js';

const scratch = scratchFolder();
let said: string[] = [];

beforeEach(() => {
  said = [];
  vi.spyOn(console, 'log').mockImplementation((line) => void said.push(line));
});
afterEach(() => {
  vi.restoreAllMocks();
  process.exitCode = undefined;
});

describe('checking at the terminal', () => {
  it('names a damaged file once, mends it, and the copies are whole again', async () => {
    await putPictures(scratch, 'card', [1, 2, 3]);
    const disks = [scratch.path('a'), scratch.path('b')];
    const { folder } = (await bringIn({ cards: [scratch.path('card')], destinations: disks })).cards[0]!;
    await writeFile(join(disks[0]!, 'cards', folder, pictureAt(2)), 'damaged');
    await verifyCommand(disks[0]!);
    expect(said.filter((line) => line.includes('TEST0002'))).toHaveLength(1);
    expect(said).toContainEqual(expect.stringMatching(/^reading back: 100 % {2}3 of 3 files/));
    expect(said.at(-1)).toBe('2 files are as they were; one thing is wrong and named apart.');
    expect(process.exitCode).toBe(1);
    process.exitCode = undefined;
    await mendCommand(disks[0]!, { from: disks[1]! });
    await verifyCommand(disks[0]!);
    expect(said.at(-1)).toBe('All 3 files are as they were when they were brought in.');
    expect(process.exitCode).toBeUndefined();
  });

  it('BI33: names what is in no manifest', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const { folder } = (await bringIn({ cards: [scratch.path('card')], destinations: [scratch.path('a')] })).cards[0]!;
    await writeFile(join(scratch.path('a'), 'cards', folder, 'DCIM', 'stray.txt'), 'put there by hand');
    await verifyCommand(scratch.path('a'));
    expect(said.filter((line) => line.includes('stray'))).toEqual([
      `cards/${folder}/DCIM/stray.txt is in no manifest: it was put there afterwards, and nothing vouches for it.`,
    ]);
    expect(said.at(-1)).toMatch(/ 1 more file is in no manifest\.$/);
    expect(process.exitCode).toBeUndefined();
  });

  it('asks for the good copy with an example', async () => {
    await expect(mendCommand(join('first', '2031-05-17 Ebbstone'), {})).rejects.toThrow(
      /no --from was given\. Say for instance: tyrewall mend "first.*Ebbstone" --from "SECOND_DISK\/2031-05-17 Ebbstone"$/,
    );
  });

  it('says how many files a new disk got, all of them', async () => {
    await putPictures(scratch, 'card', [1, 2, 3]);
    await bringIn({ cards: [scratch.path('card')], destinations: [scratch.path('a')] });
    await addDiskCommand(scratch.path('a'), scratch.path('late'));
    expect(said).toContainEqual(expect.stringMatching(/: 100 % {2}3 of 3 files/));
    await addDiskCommand(scratch.path('a'), scratch.path('late'));
    expect(said).toContainEqual(expect.stringMatching(/3 files, all here already/));
  });
});
