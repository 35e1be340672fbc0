import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { readdir, rename } from 'node:fs/promises';
import { afterEach, describe, expect, it } from 'vitest';
import type { CardProgress } from '../../core/bringin/types.js';
import { type Disk, nodeDisk } from './disk.js';
import { type BringInReport, bringIn, verifyFolder } from './index.js';
import { isFromEarlierStart, noteWithStart } from './machineStart.js';
import { failingDisk } from './testing/failingDisk.js';
import { contentOf, deviceOfItsOwn, pathsBelow, pictureAt, putPictures, scratchFolder } from './testing/scratch.js';

const scratch = scratchFolder();
const bring = (disk?: Disk): Promise<BringInReport> =>
  bringIn({
    cards: [scratch.path('card')],
    destinations: [scratch.path('a'), scratch.path('b')],
    findDevice: deviceOfItsOwn,
    ...(disk === undefined ? {} : { disk }),
  });

const isOn = (disk: string, path: string): boolean => path.startsWith(`${scratch.path(disk)}/`);
const isPicture = (number: number, path: string): boolean => path.endsWith(pictureAt(number));
const numbers = [1, 2, 3, 4, 5, 6];

/** Whatever happened before, the next try ends with everything on both disks. */
async function expectToGoOn(): Promise<void> {
  const report = (await bring()).cards[0]!;
  const wanted = await contentOf(scratch.path('card'));
  for (const disk of ['a', 'b']) expect(await contentOf(scratch.path(disk, 'cards', report.folder))).toEqual(wanted);
  expect(report.verdict.kind).toBe('may-be-formatted');
  expect(await readdir(scratch.path('a/cards'))).toHaveLength(1);
}

const nothingHalf = async (): Promise<void> => {
  const wanted = await contentOf(scratch.path('card'));
  for (const disk of ['a', 'b']) {
    for (const fill of await readdir(scratch.path(disk, 'cards'))) {
      for (const [path, bytes] of await contentOf(scratch.path(disk, 'cards', fill)))
        expect(bytes, path).toBe(wanted.get(path));
    }
  }
};

describe('disks and cards that fail', () => {
  it('BI50: a card for which nothing could be done is told of as in trouble, also to who only watches', async () => {
    await putPictures(scratch, 'card', [1]);
    const told: CardProgress[] = [];
    const destinations = [scratch.path('card/copies')];
    await bringIn({ cards: [scratch.path('card')], destinations, onProgress: (progress) => told.push(progress) });
    expect(told.at(-1)).toMatchObject({
      state: 'finished',
      troubles: [expect.stringContaining('Nothing is ever written to a card')],
      verdict: { kind: 'keep' },
    });
  });

  it('BI57: a card taken out half-way is said once, what was read is whole, and put back it goes on', async () => {
    await putPictures(scratch, 'card', [1, 2, 3, 4, 5, 6, 7, 8, 9], 500_000);
    const wanted = await contentOf(scratch.path('card'));
    let copied = 0;
    const report = (
      await bring({
        ...nodeDisk,
        open: async (path, flags) => {
          if (path.includes(`${scratch.path('card')}/`) && ++copied === 5)
            await rename(scratch.path('card', 'DCIM'), scratch.path('taken out'));
          return nodeDisk.open(path, flags);
        },
      })
    ).cards[0]!;
    expect(report.troubles).toEqual([expect.stringMatching(/card can no longer be listed; it was taken out/)]);
    expect(report.verdict).toMatchObject({ kind: 'keep', missing: report.troubles });
    expect(report.outcomes.length).toBeGreaterThan(0);
    expect(report.outcomes.length).toBeLessThan(9);
    expect(await verifyFolder(scratch.path('a'))).toMatchObject({ isWhole: true, verified: report.outcomes.length });
    await rename(scratch.path('taken out'), scratch.path('card', 'DCIM'));
    const again = (await bring()).cards[0]!;
    expect(again).toMatchObject({ fill: report.fill, troubles: [] });
    expect(await contentOf(scratch.path('b/cards', again.folder))).toEqual(wanted);
  });

  it('BI50: a file the card cannot give is named, the rest goes on, and the card is kept', async () => {
    await putPictures(scratch, 'card', numbers);
    const report = await bring(
      failingDisk({ read: (path) => (isOn('card', path) && isPicture(3, path) ? 'EIO' : null) }),
    );
    const { outcomes, verdict } = report.cards[0]!;
    expect(outcomes.filter((outcome) => outcome.kind === 'verified')).toHaveLength(5);
    expect(outcomes.find((outcome) => outcome.kind === 'unreadable')).toEqual({
      kind: 'unreadable',
      path: pictureAt(3),
      sentence: `Expected to read ${pictureAt(3)} from the card but the device could not read or write there (EIO). Everything else goes on; try this card in another reader.`,
    });
    expect(verdict).toMatchObject({
      kind: 'keep',
      missing: expect.arrayContaining([expect.stringMatching(/lacks 1 file \(DCIM\/100TESTA\/TEST0003.JPG\)/)]),
    });
    await nothingHalf();
    await expectToGoOn();
  });

  it('BI51: a disk that becomes full takes no more, the other goes on, and the next try continues', async () => {
    await putPictures(scratch, 'card', numbers);
    let written = 0;
    const full = failingDisk({ write: (path) => (isOn('b', path) && ++written > 2 ? 'ENOSPC' : null) });
    const { troubles, verdict, outcomes } = (await bring(full)).cards[0]!;
    expect(troubles.filter((sentence) => sentence.includes('the disk is full (ENOSPC)'))).toHaveLength(1);
    expect(outcomes).toHaveLength(6);
    expect(verdict).toMatchObject({ kind: 'keep', sentence: expect.stringMatching(/the disk is full/) });
    expect(await verifyFolder(scratch.path('a'))).toMatchObject({ verified: 6, isWhole: true });
    expect(await verifyFolder(scratch.path('b'))).toMatchObject({ isWhole: true });
    await nothingHalf();
    await expectToGoOn();
  });

  it.each(['EIO', 'EROFS', 'ENODEV'])(
    'BI52: a disk that answers %s while it flushes keeps no half file',
    async (code) => {
      await putPictures(scratch, 'card', numbers);
      let flushed = 0;
      const report = await bring(failingDisk({ sync: (path) => (isOn('a', path) && ++flushed > 3 ? code : null) }));
      expect(report.cards[0]!.troubles.join(' ')).toContain(`(${code})`);
      await nothingHalf();
      await expectToGoOn();
    },
  );

  it('BI53: a copy that reads back differently is removed, said and made anew the next time', async () => {
    await putPictures(scratch, 'card', numbers);
    const spoiled = failingDisk({
      spoil: (path, bytes) => void (isOn('b', path) && isPicture(2, path) && bytes.fill(0)),
    });
    const { outcomes, verdict } = (await bring(spoiled)).cards[0]!;
    expect(outcomes.find((outcome) => outcome.kind === 'mismatch')).toMatchObject({
      path: pictureAt(2),
      sentence: expect.stringMatching(
        /Expected [0-9a-f]{32} for .*TEST0002.JPG on .*b but read back [0-9a-f]{32}; the copy was removed/,
      ),
    });
    expect(verdict.kind).toBe('keep');
    expect((await pathsBelow(scratch.path('b'))).filter((path) => isPicture(2, path))).toEqual([]);
    await expectToGoOn();
  });

  it('BI54: a file that changes while it is read gets no name until it is whole', async () => {
    await putPictures(scratch, 'card', [1, 2], 5_000_000);
    let isTouched = false;
    const growing = failingDisk({
      read: (path) => {
        if (isOn('card', path) && isPicture(2, path) && !isTouched) {
          isTouched = true;
          execFileSync('sh', ['-c', `printf more >> '${path}'`]);
        }
        return null;
      },
    });
    const report = (await bring(growing)).cards[0]!;
    expect(report.troubles[0]).toMatch(/TEST0002.JPG but .*it is still being written/);
    await nothingHalf();
    await expectToGoOn();
  });

  it('BI55: a disk that cannot be read past the memory proves nothing, and that is said', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const cached: Disk = failingDisk({});
    const noDirect: Disk = {
      ...cached,
      open: async (path, flags) => {
        if (isOn('b', path) && (flags & 0o40000) !== 0) throw Object.assign(new Error('no'), { code: 'EINVAL' });
        return cached.open(path, flags);
      },
    };
    const { outcomes, verdict } = (await bring(noDirect)).cards[0]!;
    expect(outcomes[0]).toMatchObject({
      kind: 'written-not-read-back',
      why: 'this disk cannot be read past the memory',
    });
    expect(verdict).toMatchObject({
      kind: 'keep',
      missing: [expect.stringMatching(/2 files .* on .*b could not be read back from the disk itself/)],
    });
    expect((await bring(noDirect)).cards[0]).toMatchObject({ verdict: { kind: 'keep' }, generations: [1, 1] });
    expect((await bring()).cards[0]).toMatchObject({ verdict: { kind: 'may-be-formatted' }, generations: [1, 2] });
    expect(await verifyFolder(scratch.path('b'))).toMatchObject({ verified: 2, isWhole: true });
  });
});

describe('a note on a copy that was not read back', () => {
  it('BI55: is good until the computer was started anew', () => {
    expect(isFromEarlierStart(noteWithStart('why', 'aaaa'), 'aaaa')).toBe(false);
    expect(isFromEarlierStart(noteWithStart('why', 'aaaa'), 'bbbb')).toBe(true);
    expect(isFromEarlierStart(noteWithStart('why', 't1000'), 't1009')).toBe(false);
    expect(isFromEarlierStart(noteWithStart('why', 't1000'), 't1100')).toBe(true);
    expect(isFromEarlierStart('a note of somebody else', 'bbbb')).toBe(false);
  });
});

describe('a small disk', () => {
  let isMounted = false;
  afterEach(() => {
    if (isMounted) execFileSync('umount', ['-l', scratch.path('b')]);
    isMounted = false;
  });
  const mounted = (megabytes: number, options = ''): string | null => {
    const folder = scratch.path('b');
    mkdirSync(folder, { recursive: true });
    try {
      execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m${options}`, 'tmpfs', folder], { stdio: 'pipe' });
    } catch {
      console.warn('1 test skipped: mounting a small disk needs the superuser');
      return null;
    }
    isMounted = true;
    return folder;
  };

  it('BI56: too small for the card, it is refused before anything starts, with the sizes', async () => {
    await putPictures(scratch, 'card', numbers, 500_000);
    if (mounted(8) === null) return;
    const report = (await bring()).cards[0]!;
    expect(report.troubles[0]).toMatch(/Expected 0\.\d+ GB free on .*b for 6 files but there are 0\.008 GB/);
    expect(await verifyFolder(scratch.path('a'))).toMatchObject({ verified: 6, isWhole: true });
    expect(report.verdict.kind).toBe('keep');
  });

  it('BI51: full half-way for real, it keeps whole files only and goes on when there is room', async () => {
    await putPictures(scratch, 'card', numbers, 4_000_000);
    const folder = mounted(100);
    if (folder === null) return;
    let opened = 0;
    const shrinking: Disk = {
      ...failingDisk({}),
      open: async (path, flags) => {
        // Somebody else fills the disk once copying has begun.
        if (isOn('b', path) && ++opened === 1)
          execFileSync('sh', ['-c', `head -c 88000000 /dev/zero > '${folder}/other'`]);
        return failingDisk({}).open(path, flags);
      },
    };
    const report = (await bring(shrinking)).cards[0]!;
    expect(report.troubles.join(' ')).toMatch(/the disk is full \(ENOSPC\)/);
    await nothingHalf();
    execFileSync('rm', [`${folder}/other`]);
    const again = (await bring()).cards[0]!;
    expect(again.fill).toBe(report.fill);
    expect(await contentOf(scratch.path('b/cards', again.folder))).toEqual(await contentOf(scratch.path('card')));
  });

  it('BI24: read-only, it is refused with a sentence and the other goes on', async () => {
    await putPictures(scratch, 'card', [1]);
    if (mounted(1, ',ro') === null) return;
    const report = await bring();
    expect(report.refused[0]!.sentence).toMatch(
      /Expected to write to .*b but the disk is read-only \(EROFS\). Unlock the disk or give another./,
    );
    expect(report.cards[0]!.outcomes[0]).toMatchObject({ kind: 'verified', copies: 1 });
  });
});
