import { appendFile, chmod, lstat, readdir, readFile, rm, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CardProgress } from '../../core/bringin/types.js';
import { type BringInReport, bringIn, type CardReport, type FileCopied, readFills, verifyFolder } from './index.js';
import {
  bytesOf,
  contentOf,
  deviceOfItsOwn,
  pathsBelow,
  pictureAt,
  putPictures,
  scratchFolder,
  sha1Of,
  snapshotOf,
} from './testing/scratch.js';

const scratch = scratchFolder();
const both = (): readonly string[] => [scratch.path('a'), scratch.path('b')];
const bring = (cards: readonly string[], options: object = {}): Promise<BringInReport> =>
  bringIn({
    cards: cards.map((card) => scratch.path(card)),
    destinations: both(),
    findDevice: deviceOfItsOwn,
    ...options,
  });
const bringCard = async (options: object = {}): Promise<CardReport> => (await bring(['card'], options)).cards[0]!;
const fillFolder = (disk: string, report: CardReport): string => scratch.path(disk, 'cards', report.folder);

async function expectEqualOnBoth(report: CardReport, card = 'card'): Promise<void> {
  const wanted = await contentOf(scratch.path(card));
  for (const disk of ['a', 'b']) expect(await contentOf(fillFolder(disk, report))).toEqual(wanted);
}

describe('bringing in a card', () => {
  it('BI40: both disks hold the whole volume byte for byte, times included, and the manifests vouch for it', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    await scratch.put('card/DCIM/100TESTA/TEST0003.MP4', bytesOf(3, 9_000_001));
    await scratch.put('card/DCIM/100TESTA/TEST0004.JPG', bytesOf(4, 8_388_608));
    await scratch.put('card/MISC/empty.txt', '');
    await scratch.put('card/odd "name" & <tag> 🏍\n.txt', 'odd');
    const report = await bringCard();
    expect(report.outcomes.map((outcome) => [outcome.kind, 'copies' in outcome && outcome.copies])).toEqual(
      Array(6).fill(['verified', 2]),
    );
    await expectEqualOnBoth(report);
    const fills = await readFills(scratch.path('b'));
    expect(fills[0]).toMatchObject({ id: report.fill, folder: report.folder, generations: 1 });
    expect(fills[0]!.files).toHaveLength(6);
    const [from, to] = [join(scratch.path('card'), pictureAt(1)), join(fillFolder('a', report), pictureAt(1))];
    expect((await lstat(to)).mtimeMs).toBeCloseTo((await lstat(from)).mtimeMs, 0);
    expect(report.verdict).toMatchObject({
      kind: 'may-be-formatted',
      sentence: expect.stringMatching(/may be formatted: all 6 files/),
    });
  });

  it('BI4: the same card again adds nothing and writes nothing', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const first = await bringCard();
    const before = await contentOf(scratch.path('a'));
    const manifests = await readdir(join(fillFolder('a', first), 'ascmhl'));
    const again = await bringCard();
    expect(again).toMatchObject({
      fill: first.fill,
      alreadyHere: 2,
      outcomes: [],
      generations: [1, 1],
      verdict: { kind: 'may-be-formatted' },
    });
    expect(await contentOf(scratch.path('a'))).toEqual(before);
    expect(await readdir(join(fillFolder('a', first), 'ascmhl'))).toEqual(manifests);
  });

  it('BI5: a card that has grown goes on as the next generation of its fill', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const first = await bringCard();
    await putPictures(scratch, 'card', [3]);
    const second = await bringCard();
    expect(second).toMatchObject({ fill: first.fill, alreadyHere: 2, generations: [2, 2] });
    expect(second.outcomes).toHaveLength(1);
    await expectEqualOnBoth(second);
    expect((await readFills(scratch.path('a')))[0]!.files).toHaveLength(3);
  });

  it('BI5: pictures taken while it copies are brought in too', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    let isGrown = false;
    const report = await bringCard({
      onFileCopied: () => {
        if (!isGrown) void putPictures(scratch, 'card', [3]);
        isGrown = true;
      },
    });
    expect(report.outcomes).toHaveLength(3);
    expect(report.verdict.kind).toBe('may-be-formatted');
    await expectEqualOnBoth(report);
  });

  it('BI76: a manifest alone proves nothing: copies deleted since are made again, and no card is let go before', async () => {
    await putPictures(scratch, 'card', [1, 2, 3]);
    const first = await bringCard();
    for (const disk of ['a', 'b']) await rm(join(fillFolder(disk, first), 'DCIM'), { recursive: true });
    const second = await bringCard();
    expect(second).toMatchObject({ fill: first.fill, folder: first.folder, alreadyHere: 0 });
    expect(second.notes.join(' ')).toMatch(/3 files that were copied to .* no longer there/);
    await expectEqualOnBoth(second);
    expect(second.verdict.kind).toBe('may-be-formatted');
    await rm(join(fillFolder('b', first), pictureAt(2)));
    const third = await bringCard();
    expect(third).toMatchObject({ alreadyHere: 2, outcomes: [{ kind: 'verified', copies: 1 }] });
    await expectEqualOnBoth(third);
    expect((await verifyFolder(scratch.path('b'))).troubles).toEqual([]);
  });

  it('BI77: a copy changed since it was made is read again, told of, left alone, and speaks against formatting', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const first = await bringCard();
    const touched = join(fillFolder('a', first), pictureAt(1));
    const bytes = await readFile(touched);
    bytes[100] = bytes[100]! ^ 1;
    await writeFile(touched, bytes);
    const second = await bringCard();
    expect(second.outcomes).toMatchObject([{ kind: 'mismatch', path: pictureAt(1) }]);
    expect(second.troubles.join(' ')).toMatch(/changed or damaged since it was copied/);
    expect(second.verdict.kind).toBe('keep');
    expect(await readFile(touched)).toEqual(bytes);
    // Its time alone says nothing against it: it is read, found whole, and no manifest is written for that.
    await writeFile(touched, await readFile(join(fillFolder('b', first), pictureAt(1))));
    const third = await bringCard();
    expect(third).toMatchObject({ outcomes: [], generations: [1, 1], verdict: { kind: 'may-be-formatted' } });
  });

  it('BI6: one name with other content keeps both', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const first = await bringCard();
    const old = await readFile(scratch.path('card', pictureAt(1)));
    await scratch.put(`card/${pictureAt(1)}`, 'rated in the camera', '2026-05-30T12:00:00Z');
    const second = await bringCard();
    const content = await contentOf(fillFolder('b', first));
    expect(second.fill).toBe(first.fill);
    expect(content.get(pictureAt(1))).toBe(sha1Of(old));
    expect(content.get('DCIM/100TESTA/kept-2/TEST0001.JPG')).toBe(sha1Of('rated in the camera'));
    expect(second.verdict.kind).toBe('may-be-formatted');
    expect((await bringCard()).outcomes).toEqual([]);
  });

  it('BI7: a re-formatted card is a new fill beside the old one', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const first = await bringCard();
    await rm(scratch.path('card/DCIM'), { recursive: true });
    await scratch.put(`card/${pictureAt(1)}`, bytesOf(99, 20_001), '2026-05-31T09:00:00Z');
    const second = await bringCard();
    expect(second.fill).not.toBe(first.fill);
    expect((await readFills(scratch.path('a'))).map((fill) => fill.files.length)).toEqual([2, 1]);
  });

  it('BI13: two slots that mirror each other become one fill, brought in at once', async () => {
    await putPictures(scratch, 'slot1', [1, 2, 3]);
    await putPictures(scratch, 'slot2', [1, 2, 3]);
    const { cards } = await bring(['slot1', 'slot2']);
    expect(cards[1]).toMatchObject({ fill: cards[0]!.fill, alreadyHere: 3, outcomes: [] });
  });

  it('BI13: RAW and JPEG of two slots are two fills, brought in at once', async () => {
    await putPictures(scratch, 'jpeg', [1, 2]);
    await scratch.put('raw/DCIM/100TESTA/TEST0001.DNG', bytesOf(7, 30_000));
    const { cards } = await bring(['jpeg', 'raw']);
    expect(new Set(cards.map((card) => card.fill)).size).toBe(2);
    await expectEqualOnBoth(cards[0]!, 'jpeg');
    await expectEqualOnBoth(cards[1]!, 'raw');
  });

  it('BI14: a file is announced when its bytes stand under its own name, with its hash', async () => {
    await putPictures(scratch, 'card', [1, 2, 3]);
    const announced: FileCopied[] = [];
    const whole: Promise<boolean>[] = [];
    const report = await bringCard({
      onFileCopied: (file: FileCopied) => {
        announced.push(file);
        whole.push(readFile(file.absolutePath).then((bytes) => bytes.length === file.bytes));
      },
    });
    expect(await Promise.all(whole)).toEqual([true, true, true]);
    const manifest = (await readFills(scratch.path('a')))[0]!.files;
    expect(announced.map((file) => [file.path, file.fileId]).sort()).toEqual(
      manifest.map((file) => [file.path, file.fileId]).sort(),
    );
    expect(announced.every((file) => file.fill === report.fill && file.folder === report.folder)).toBe(true);
  });

  it('BI15: progress ends with everything read, written and read back, and the verdict', async () => {
    await putPictures(scratch, 'card', [1, 2, 3], 5_000_000);
    const told: CardProgress[] = [];
    await bringCard({ onProgress: (progress: CardProgress) => told.push(progress) });
    const last = told.at(-1)!;
    expect(last).toMatchObject({
      state: 'finished',
      filesTotal: 3,
      filesRead: 3,
      bytesRead: last.bytesTotal,
      verdict: { kind: 'may-be-formatted' },
    });
    for (const copy of last.copies)
      expect([copy.bytesWritten, copy.bytesReadBack]).toEqual([last.bytesTotal, last.bytesTotal]);
  });

  it('BI16: stopped, it says so and leaves whole files only; again, it goes on where it was', async () => {
    await putPictures(
      scratch,
      'card',
      Array.from({ length: 12 }, (_, index) => index + 1),
      600_000,
    );
    const stop = new AbortController();
    const first = await bringCard({ signal: stop.signal, onFileCopied: () => stop.abort() });
    expect(first).toMatchObject({
      state: 'stopped',
      verdict: { kind: 'keep', sentence: expect.stringMatching(/It was stopped/) },
    });
    const wanted = await contentOf(scratch.path('card'));
    for (const [path, bytes] of await contentOf(fillFolder('a', first))) expect(bytes, path).toBe(wanted.get(path));
    const inodes = await inodesBelow(fillFolder('a', first));
    const second = await bringCard();
    expect(second.fill).toBe(first.fill);
    await expectEqualOnBoth(second);
    const later = await inodesBelow(fillFolder('a', first));
    for (const [path, inode] of inodes) expect(later.get(path), path).toBe(inode);
    expect(await verifyFolder(scratch.path('b'))).toMatchObject({ verified: 12, isWhole: true });
  });

  it('BI17: nothing is ever written to a card', async () => {
    await putPictures(scratch, 'card', [1, 2, 3]);
    await scratch.put('outside/secret.txt', 'secret');
    await symlink(scratch.path('outside'), scratch.path('card/DCIM/link'));
    const before = await snapshotOf(scratch.path('card'));
    await bringCard();
    await bringCard();
    expect(await snapshotOf(scratch.path('card'))).toEqual(before);
  });

  it('BI34: a fill of a colleague keeps its id, and their meeting folder stands for the fills in it', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const theirs = (await bringIn({ cards: [scratch.path('card')], destinations: [scratch.path('theirs')] })).cards[0]!;
    await writeFile(scratch.path('theirs/meeting.json'), '{}');
    const { cards } = await bring(['theirs']);
    expect(cards[0]).toMatchObject({ fill: theirs.fill, folder: theirs.folder, generations: [1, 1] });
    expect(cards[0]!.verdict).toMatchObject({
      kind: 'keep',
      sentence: expect.stringMatching(/is a copy with a history of its own, not a card/),
    });
    expect(await pathsBelow(fillFolder('a', cards[0]!))).toEqual(
      await pathsBelow(scratch.path('theirs/cards', theirs.folder)),
    );
  });

  it('BI34: a file damaged on a colleague’s disk is not taken for good', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const theirs = (await bringIn({ cards: [scratch.path('card')], destinations: [scratch.path('theirs')] })).cards[0]!;
    const bad = scratch.path('theirs/cards', theirs.folder, pictureAt(2));
    const { atime, mtime, size } = await lstat(bad);
    await writeFile(bad, Buffer.alloc(size, 1));
    await utimes(bad, atime, mtime);
    const { cards } = await bring([`theirs/cards/${theirs.folder}`]);
    expect(cards[0]!.outcomes.find((outcome) => outcome.path === pictureAt(2))).toMatchObject({ kind: 'mismatch' });
    expect([...(await contentOf(fillFolder('a', cards[0]!))).keys()]).toEqual([pictureAt(1)]);
  });
});

async function inodesBelow(folder: string): Promise<ReadonlyMap<string, number>> {
  const paths = (await pathsBelow(folder)).filter((path) => !path.startsWith('ascmhl/'));
  return new Map(await Promise.all(paths.map(async (path) => [path, (await lstat(join(folder, path))).ino] as const)));
}

describe('odd cards and destinations', () => {
  it('BI2: an empty card, no DCIM, and only clips each get a sentence, and what is there is brought in', async () => {
    await scratch.put('folder/holiday/one.jpg', 'one');
    await scratch.put('clips/PRIVATE/CLIP/C0001.MP4', 'clip');
    await scratch.put('empty/.DS_Store', 'x');
    const { cards } = await bring(['folder', 'clips', 'empty']);
    expect(cards.map((card) => card.outcomes.length)).toEqual([1, 1, 0]);
    expect(cards[0]!.notes[0]).toMatch(
      /no DCIM folder with pictures on .*folder, so it is brought in as a plain folder/,
    );
    expect(cards[1]!.notes[0]).toMatch(/clips but no pictures/);
    expect(cards[2]!.troubles[0]).toMatch(/Expected pictures on .*empty but there is no file on it/);
    expect(cards[2]!.verdict.kind).toBe('keep');
    expect(await readdir(scratch.path('a/cards'))).toHaveLength(2);
  });

  it('BI18: links are not followed, the card is kept for them, and everything else goes on', async () => {
    await putPictures(scratch, 'card', [1]);
    await scratch.put('outside/secret.txt', 'secret');
    await symlink(scratch.path('outside'), scratch.path('card/DCIM/away'));
    await symlink(scratch.path('outside/secret.txt'), scratch.path('card/secret.txt'));
    const report = await bringCard();
    expect([...(await contentOf(fillFolder('a', report))).keys()]).toEqual([pictureAt(1)]);
    expect(report.verdict).toMatchObject({
      kind: 'keep',
      missing: [expect.stringMatching(/DCIM\/away. It is a link/), expect.stringMatching(/secret.txt. It is a link/)],
    });
  });

  it('BI23: a destination on the card itself is refused, and the other goes on', async () => {
    await putPictures(scratch, 'card', [1]);
    const before = await snapshotOf(scratch.path('card'));
    const report = await bring(['card'], { destinations: [scratch.path('card/backup'), scratch.path('a')] });
    expect(report.refused[0]!.sentence).toMatch(/is on the card .* itself. Nothing is ever written to a card/);
    expect(report.cards[0]!.outcomes[0]).toMatchObject({ kind: 'verified', copies: 1 });
    expect(report.cards[0]!.verdict).toMatchObject({
      kind: 'keep',
      missing: expect.arrayContaining([expect.stringMatching(/on the card/), expect.stringMatching(/one copy only/)]),
    });
    expect(await snapshotOf(scratch.path('card'))).toEqual(before);
  });

  it('BI23: one folder given twice, also through a link, is one copy', async () => {
    await putPictures(scratch, 'card', [1]);
    await scratch.put('a/x', 'x');
    await symlink(scratch.path('a'), scratch.path('again'));
    const report = await bring(['card'], { destinations: [scratch.path('a'), scratch.path('again')] });
    expect(report.refused[0]!.sentence).toMatch(/given twice/);
  });

  it('BI24: a destination that cannot be made is refused with a sentence', async () => {
    await putPictures(scratch, 'card', [1]);
    await scratch.put('file', 'not a folder');
    const report = await bring(['card'], { destinations: [scratch.path('file/inside'), scratch.path('a')] });
    expect(report.refused[0]!.sentence).toMatch(/Expected to write to .*file\/inside but/);
    expect(report.cards[0]!.outcomes).toHaveLength(1);
  });

  it('BI24: without any destination left, nothing is read and the card is kept', async () => {
    await putPictures(scratch, 'card', [1]);
    const report = await bring(['card'], { destinations: [] });
    expect(report.cards[0]!.verdict).toMatchObject({
      kind: 'keep',
      sentence: expect.stringMatching(/No destination was given/),
    });
  });

  it('BI25: a card that is not there gets a sentence, and the others go on', async () => {
    await putPictures(scratch, 'card', [1]);
    const { cards } = await bring(['nowhere', 'card']);
    expect(cards[0]!.troubles[0]).toMatch(
      /Expected a card or folder at .*nowhere but could not list it: it is no longer there \(ENOENT\)/,
    );
    expect(cards[1]!.outcomes).toHaveLength(1);
  });

  it('BI26: a file of our name that no manifest knows is never written over, and an equal one is taken as the copy', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    const first = await bringCard();
    await rm(join(fillFolder('a', first), 'ascmhl'), { recursive: true });
    const [changed, equal] = [1, 2].map((number) => join(fillFolder('a', first), pictureAt(number)));
    await appendFile(changed!, 'more');
    const { ino } = await lstat(equal!);
    const again = await bringCard();
    expect(await readFile(changed!, 'latin1')).toMatch(/more$/);
    expect((await lstat(equal!)).ino).toBe(ino);
    expect(again.outcomes.map((outcome) => outcome.kind).sort()).toEqual(['mismatch', 'verified']);
    expect(again.troubles).toEqual([
      expect.stringMatching(/Another file stands under .*TEST0001.JPG on .*a, and no manifest knows it/),
    ]);
    expect(again.verdict.kind).toBe('keep');
  });

  it('BI27: the device a folder stands on is asked of the system, and unknown proves nothing', async () => {
    await putPictures(scratch, 'card', [1]);
    const report = await bringIn({ cards: [scratch.path('card')], destinations: both() });
    expect(report.cards[0]!.verdict).toMatchObject({
      kind: 'keep',
      missing: [expect.stringMatching(/on one physical disk|could not be found out/)],
    });
  });

  it('BI28: a file that may not be read is named and the rest goes on', async () => {
    await putPictures(scratch, 'card', [1, 2]);
    await chmod(scratch.path('card', pictureAt(1)), 0o000);
    // The superuser may read everything; the injected disks of another test stand in for him.
    if (process.getuid?.() === 0) return;
    const report = await bringCard();
    expect(report.outcomes.find((outcome) => outcome.path === pictureAt(1))).toMatchObject({ kind: 'unreadable' });
  });
});
