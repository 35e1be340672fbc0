import { mkdir, readdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { readHistory } from './history.js';
import {
  addDisk,
  bringIn,
  deviceOf,
  mend,
  mountRoots,
  readFills,
  recordCheck,
  verifyFolder,
  watchForCards,
} from './index.js';
import { contentOf, pathsBelow, pictureAt, putPictures, scratchFolder } from './testing/scratch.js';

const scratch = scratchFolder();

/** A meeting on disk `a`, and on `b` too where asked. Resolves with the fill's folder name. */
async function broughtIn(...disks: readonly string[]): Promise<string> {
  await putPictures(scratch, 'card', [1, 2, 3]);
  const report = await bringIn({
    cards: [scratch.path('card')],
    destinations: disks.map((disk) => scratch.path(disk)),
  });
  for (const disk of disks) await writeFile(scratch.path(disk, 'meeting.json'), '{"name":"Gannet Moor"}');
  return report.cards[0]!.folder;
}

describe('years later', () => {
  it('BI70: a whole meeting folder, moved, is checked against its manifests, with progress', async () => {
    await broughtIn('a');
    await rename(scratch.path('a'), scratch.path('moved'));
    const told: number[] = [];
    const check = await verifyFolder(scratch.path('moved'), (progress) => told.push(progress.filesDone));
    expect(check).toMatchObject({ histories: 1, verified: 3, isWhole: true, troubles: [] });
    expect(Math.max(...told)).toBe(3);
  });

  it('BI70: a folder without any history is not called whole', async () => {
    await putPictures(scratch, 'card', [1]);
    expect(await verifyFolder(scratch.path('card'))).toMatchObject({
      isWhole: false,
      sentence: expect.stringMatching(/Expected an ascmhl folder in .*card or below it but found none/),
    });
  });

  it('BI75: checking writes nothing; recorded, the history says what was verified and what had failed', async () => {
    await putPictures(scratch, 'card', [1, 2, 3]);
    const destinations = [scratch.path('a'), scratch.path('b')];
    const { folder } = (await bringIn({ cards: [scratch.path('card')], destinations })).cards[0]!;
    const fill = scratch.path('a/cards', folder);
    await writeFile(join(fill, pictureAt(2)), 'damaged');
    const before = await pathsBelow(scratch.path('a'));
    const check = await verifyFolder(scratch.path('a'));
    expect(await pathsBelow(scratch.path('a'))).toEqual(before);
    expect(await recordCheck(check)).toEqual({ recorded: 1, troubles: [] });
    const history = (await readHistory(fill))!;
    expect(history.troubles).toEqual([]);
    const said = history.generations[1]!.manifest.files.map(({ path, hashes }) => [path, hashes[0]!.action]);
    expect(said.sort()).toEqual([
      [pictureAt(1), 'verified'],
      [pictureAt(2), 'failed'],
      [pictureAt(3), 'verified'],
    ]);
    // What had failed is still expected as it was, and is mended to that.
    expect((await verifyFolder(scratch.path('a'))).files.filter((file) => file.kind === 'mismatch')).toHaveLength(1);
    await mend({ damaged: scratch.path('a'), from: scratch.path('b') });
    expect(await recordCheck(await verifyFolder(fill))).toEqual({ recorded: 1, troubles: [] });
    expect(await verifyFolder(scratch.path('a'))).toMatchObject({ isWhole: true, verified: 3 });
  });

  it('BI71: damaged and missing files are mended from the good copy, and only from a good one', async () => {
    const folder = await broughtIn('a', 'b');
    await writeFile(scratch.path('a/cards', folder, pictureAt(1)), 'damaged');
    await rm(scratch.path('a/cards', folder, pictureAt(2)));
    await rm(scratch.path('a/cards', folder, pictureAt(3)));
    await writeFile(scratch.path('b/cards', folder, pictureAt(3)), 'damaged too');
    const report = await mend({ damaged: scratch.path('a'), from: scratch.path('b') });
    expect(report.mended).toEqual([1, 2].map((number) => `cards/${folder}/${pictureAt(number)}`));
    expect(report.troubles).toEqual([
      expect.stringMatching(
        /TEST0003.JPG on the good disk but it has [0-9a-f]{32}: that copy is damaged too. Nothing was replaced/,
      ),
    ]);
    expect(
      (await verifyFolder(scratch.path('a'))).files.filter((file) => file.kind !== 'verified').map((file) => file.kind),
    ).toEqual(['missing']);
    expect((await readFills(scratch.path('a')))[0]!.generations).toBe(2);
    expect((await mend({ damaged: scratch.path('a'), from: scratch.path('b') })).mended).toEqual([]);
  });

  it.each(['manifest', 'chain'])('BI71: a damaged or missing %s is brought back from the good copy', async (which) => {
    const folder = await broughtIn('a', 'b');
    const names = await readdir(scratch.path('a/cards', folder, 'ascmhl'));
    const name = names.find((one) => one.includes('chain') === (which === 'chain'))!;
    const path = scratch.path('a/cards', folder, 'ascmhl', name);
    const spoil = [() => writeFile(path, '<spoilt'), () => rm(path)];
    for (const spoilt of spoil) {
      await spoilt();
      expect((await verifyFolder(scratch.path('a'))).isWhole).toBe(false);
      const report = await mend({ damaged: scratch.path('a'), from: scratch.path('b') });
      expect(report).toMatchObject({ mended: [`cards/${folder}/ascmhl/${name}`], troubles: [] });
      expect(await readFile(path)).toEqual(await readFile(scratch.path('b/cards', folder, 'ascmhl', name)));
      expect(await verifyFolder(scratch.path('a'))).toMatchObject({ isWhole: true, verified: 3 });
    }
    await writeFile(path, '<spoilt');
    await writeFile(scratch.path('b/cards', folder, 'ascmhl', name), '<spoilt too');
    const neither = await mend({ damaged: scratch.path('a'), from: scratch.path('b') });
    expect(neither.troubles[0]).toContain('in trouble on the other disk too');
  });

  it('BI71: with nothing damaged nothing is written', async () => {
    await broughtIn('a', 'b');
    const before = await pathsBelow(scratch.path('a'));
    expect(await mend({ damaged: scratch.path('a'), from: scratch.path('b') })).toEqual({
      mended: [],
      troubles: [],
      sentence: 'Nothing is damaged.',
    });
    expect(await pathsBelow(scratch.path('a'))).toEqual(before);
  });
});

describe('a second disk, later', () => {
  it('BI72: gets the whole meeting, verified, with the same manifests; again it adds nothing', async () => {
    const folder = await broughtIn('a');
    await scratch.put('a/log/writer.jsonl', 'one line\n');
    const report = await addDisk(scratch.path('a'), scratch.path('late'));
    expect(report).toMatchObject({ otherFilesCopied: 2, troubles: [] });
    expect(await contentOf(scratch.path('late'))).toEqual(await contentOf(scratch.path('a')));
    expect(await verifyFolder(scratch.path('late'))).toMatchObject({ verified: 3, isWhole: true });
    const history = (disk: string) => readdir(scratch.path(disk, 'cards', folder, 'ascmhl'));
    expect(await history('late')).toEqual(await history('a'));
    expect(await addDisk(scratch.path('a'), scratch.path('late'))).toMatchObject({ otherFilesCopied: 0, troubles: [] });
    expect((await readFills(scratch.path('late')))[0]!.id).toBe((await readFills(scratch.path('a')))[0]!.id);
  });

  it('BI72: a log that grew is carried on, logs that grew apart are left and named', async () => {
    await broughtIn('a');
    await scratch.put('a/log/one.jsonl', 'one\ntwo\n');
    await scratch.put('late/log/one.jsonl', 'one\n');
    await scratch.put('a/log/two.jsonl', 'here\n');
    await scratch.put('late/log/two.jsonl', 'there\n');
    const report = await addDisk(scratch.path('a'), scratch.path('late'));
    expect(await readFile(scratch.path('late/log/one.jsonl'), 'utf8')).toBe('one\ntwo\n');
    expect(await readFile(scratch.path('late/log/two.jsonl'), 'utf8')).toBe('there\n');
    expect(report.troubles).toEqual([expect.stringMatching(/log\/two.jsonl differs on the two disks/)]);
  });

  it('BI72: what is no meeting folder is refused', async () => {
    await mkdir(scratch.path('x'));
    await expect(addDisk(scratch.path('x'), scratch.path('y'))).rejects.toThrow(
      /Expected a meeting folder with cards\/ at .*x but found none/,
    );
  });
});

describe('the desk starting by itself', () => {
  it('BI73: a volume with DCIM is told of once when it appears, and again when another takes its place', async () => {
    await mkdir(scratch.path('media/stick'), { recursive: true });
    await mkdir(scratch.path('media/present/DCIM'), { recursive: true });
    const told = vi.fn();
    const watch = watchForCards(told, { roots: [scratch.path('media'), scratch.path('nowhere')], everyMs: 20 });
    await vi.waitFor(async () => {
      await mkdir(scratch.path('media/card/DCIM'), { recursive: true });
      expect(told).toHaveBeenCalledWith(scratch.path('media/card'));
    }, 20_000);
    await rename(scratch.path('media/card'), scratch.path('taken-out'));
    await mkdir(scratch.path('media/card/DCIM'), { recursive: true });
    await vi.waitFor(() => expect(told).toHaveBeenCalledTimes(2), 20_000);
    watch.stop();
    expect(told.mock.calls.flat()).toEqual([scratch.path('media/card'), scratch.path('media/card')]);
  });

  it('BI73: cards already in are told of where that is asked for', async () => {
    await mkdir(scratch.path('media/present/DCIM'), { recursive: true });
    const told = vi.fn();
    const watch = watchForCards(told, { roots: [scratch.path('media')], everyMs: 20, includePresent: true });
    await vi.waitFor(() => expect(told).toHaveBeenCalledWith(scratch.path('media/present')), 20_000);
    watch.stop();
  });

  it('BI73: each system puts volumes where it does', () => {
    expect(mountRoots('darwin')).toEqual(['/Volumes']);
    expect(mountRoots('linux')).toContain('/media');
    expect(mountRoots('win32')).toContain('E:\\');
  });
});

describe('the computer', () => {
  it('BI27: two folders of one disk are one device; memory and the like are unknown', async () => {
    await mkdir(scratch.path('a'));
    await mkdir(scratch.path('b'));
    await symlink(scratch.path('a'), scratch.path('link'));
    const device = await deviceOf(scratch.path('a'));
    expect(await deviceOf(scratch.path('b'))).toEqual(device);
    expect(await deviceOf(scratch.path('link'))).toEqual(device);
    if (process.platform === 'linux')
      expect(await deviceOf('/proc')).toEqual({ kind: 'unknown', why: 'it is not a disk of this computer' });
  });
});
