import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { logOf } from '../../../test/builders/arrangement.js';
import { drawDay, galleryDay } from '../../../test/builders/galleryDay.js';
import { exiftool, PRIVATE_WORDS } from '../../../test/builders/pictures.js';
import type { RiderId } from '../../core/ids.js';
import { FinishError, makeFinals, makeProofs } from './index.js';

const day = galleryDay({ riders: 3 });
const kept = new Set([...day.keepers.byRider.values()].flat().map(({ bike }) => bike.frameId));
let root: string;
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-finals-'));
});
afterAll(() => rm(root, { recursive: true }));

async function drawn(name: string): Promise<string> {
  const folder = join(root, name);
  await drawDay(day, folder);
  return folder;
}
const finalsIn = async (folder: string) => (await readdir(join(folder, 'made/finals'))).sort();

/** Children are started from TypeScript here, which takes a busy machine a while. */
describe('finals', { timeout: 180_000 }, () => {
  it('FI3: are whole, without a mark, in sRGB, one of every keeper, named by time, body and number', async () => {
    const folder = await drawn('whole');
    const report = await makeFinals(day, { meetingFolder: folder });
    expect(report).toMatchObject({ made: kept.size, failed: [], notes: [], wasStopped: false, withoutRaw: 0 });
    const names = await finalsIn(folder);
    expect(names).toHaveLength(kept.size);
    for (const name of names) expect(name).toMatch(/^20260919-\d{6}-one-[0-9a-f]{2}-\d{4}\.jpg$/);
    const first = join(folder, 'made/finals', names[0]!);
    const density = exiftool(['-j', '-G1', '-n', '-XResolution', '-YResolution', '-ResolutionUnit', first]);
    // 2 is inches (CIPA DC-008, ResolutionUnit), 1 in JFIF.
    if (density !== null)
      expect(JSON.parse(density)[0]).toMatchObject({
        'IFD0:XResolution': 300,
        'IFD0:YResolution': 300,
        'IFD0:ResolutionUnit': 2,
      });
    expect((await sharp(first).metadata()).density).toBe(300);
    expect(await sharp(first).metadata()).toMatchObject({ width: 900, height: 600, space: 'srgb', hasProfile: true });
    const exposure = day.arrangement.exposures.find(({ frameId }) => frameId === report.pictures[0]!.frameId)!;
    const original = await sharp(join(folder, 'cards/a1', exposure.path))
      .raw()
      .toBuffer();
    const final = await sharp(report.pictures[0]!.path).raw().toBuffer();
    let most = 0;
    for (let at = 0; at < final.length; at += 1) most = Math.max(most, Math.abs(final[at]! - original[at]!));
    // Two encodings apart; a mark's white on dark would be 200.
    expect(most).toBeLessThan(60);
  });

  it('FI4: say title, keywords and terms, rate nothing, and hold nothing private, as exiftool reads them', async () => {
    const folder = await drawn('words');
    const { pictures } = await makeFinals(day, { meetingFolder: folder });
    const path = pictures[0]!.path;
    const bytes = await readFile(path);
    for (const word of Object.values(PRIVATE_WORDS)) expect(bytes.includes(word), word).toBe(false);
    const read = exiftool(['-j', '-G1', '-struct', '-charset', 'iptc=UTF8', path]);
    if (read === null) return;
    const [tags] = JSON.parse(read);
    const title = expect.stringMatching(/^Ebbstone, N1, Beacon, 09:03:00$/);
    const words = expect.arrayContaining(['N1', 'N', 'Beacon']);
    expect(tags).toMatchObject({
      'XMP-dc:Title': title,
      'IPTC:ObjectName': title,
      'XMP-dc:Subject': words,
      'IPTC:Keywords': words,
      'XMP-dc:Creator': ['R. Quill'],
      'XMP-xmpRights:UsageTerms': 'For personal use. Not to be published, sold or passed on; ask R. Quill.',
      'XMP-photoshop:DateCreated': '2026:09:19 09:03:00+01:00',
      'XMP-plus:DataMining': expect.stringMatching(/Prohibited|DMI-PROHIBITED/),
    });
    const own = Object.keys(tags).filter((tag) => !tag.startsWith('ICC'));
    expect(own.join('\n')).not.toMatch(/GPS|Serial|MakerNote|UserComment|Model|Make$|Rating|Label/m);
    expect(exiftool(['-validate', '-warning', '-a', '-s3', path])).not.toMatch(/IPTC|XMP|ICC/);
  });

  it('FI5: are made once: a second run makes nothing, another size makes them again, and what is no final of ours stays', async () => {
    const folder = await drawn('twice');
    await makeFinals(day, { meetingFolder: folder });
    const before = await Promise.all((await finalsIn(folder)).map((name) => stat(join(folder, 'made/finals', name))));
    await writeFile(join(folder, 'made/finals/notes.jpg'), 'a person’s');
    expect(await makeFinals(day, { meetingFolder: folder })).toMatchObject({
      made: 0,
      alreadyThere: kept.size,
      removed: 0,
    });
    const after = (await finalsIn(folder)).filter((name) => name !== 'notes.jpg');
    for (const [index, name] of after.entries())
      expect((await stat(join(folder, 'made/finals', name))).ino).toBe(before[index]!.ino);
    const smaller = await makeFinals(day, { meetingFolder: folder, longEdgePx: 450 });
    expect(smaller).toMatchObject({ made: kept.size, alreadyThere: 0 });
    expect(await sharp(smaller.pictures[0]!.path).metadata()).toMatchObject({ width: 450, height: 300 });
    expect(
      await makeFinals({ ...day, keepers: { ...day.keepers, byRider: new Map() } }, { meetingFolder: folder }),
    ).toMatchObject({ removed: kept.size });
    expect(await finalsIn(folder)).toEqual(['notes.jpg']);
  });

  it('FI20: of frames kept apart the named lie in a folder of their own, and say what they show', async () => {
    const folder = await drawn('apart');
    const [first, second] = day.arrangement.exposures;
    const exposures = day.arrangement.exposures.map((exposure) =>
      exposure === first || exposure === second
        ? { ...exposure, session: null, spot: null, apart: { is: 'podium', source: { kind: 'said' } } as const }
        : exposure,
    );
    const state = {
      ...day,
      arrangement: { ...day.arrangement, exposures },
      keepers: { ...day.keepers, byRider: new Map() },
    };
    expect(await makeFinals(state, { meetingFolder: folder })).toMatchObject({ made: 2, failed: [] });
    expect(await finalsIn(folder)).toEqual(['paddock-and-podium']);
    const names = await readdir(join(folder, 'made/finals/paddock-and-podium'));
    expect(names).toHaveLength(2);
    const read = exiftool(['-j', '-G1', '-struct', join(folder, 'made/finals/paddock-and-podium', names[0]!)]);
    if (read !== null) expect(JSON.parse(read)[0]['XMP-dc:Subject']).toContain('podium');
    expect(await makeFinals({ ...day, keepers: state.keepers }, { meetingFolder: folder })).toMatchObject({
      removed: 2,
    });
  });

  it('FI20: a frame kept apart that is taken down, itself or with its rider, has neither final nor proof, although it is kept', async () => {
    const folder = await drawn('apart-down');
    const id = 'rider-one' as RiderId;
    const [rider] = day.arrangement.riders;
    const theirs = day.keepers.byRider.get(rider!.key)!.map(({ bike }) => bike.frameId);
    const [file] = day.arrangement.exposures.filter(({ frameId }) => kept.has(frameId) && !theirs.includes(frameId));
    const down = new Set([...theirs, file!.frameId]);
    const exposures = day.arrangement.exposures.map((exposure) =>
      down.has(exposure.frameId)
        ? { ...exposure, session: null, spot: null, apart: { is: 'podium', source: { kind: 'said' } } as const }
        : exposure,
    );
    const riders = day.arrangement.riders.map((one) => (one === rider ? { ...one, id } : one));
    const before = { ...day, arrangement: { ...day.arrangement, exposures, riders } };
    expect((await makeFinals(before, { meetingFolder: folder })).made).toBe(kept.size);
    expect((await makeProofs(before, { meetingFolder: folder })).proofs.size).toBe(kept.size);
    const log = logOf([
      { kind: 'take-down', rider: id },
      { kind: 'take-down', file: file!.mainFile },
      { kind: 'keep', file: file!.mainFile },
    ]);
    const finals = await makeFinals({ ...before, log }, { meetingFolder: folder });
    expect(finals.removed).toBe(down.size);
    expect(finals.pictures.filter(({ frameId }) => down.has(frameId))).toEqual([]);
    expect(await readdir(join(folder, 'made/finals/paddock-and-podium'))).toEqual([]);
    const proofs = await makeProofs({ ...before, log }, { meetingFolder: folder });
    expect(proofs.removed).toBe(down.size);
    expect([...proofs.proofs.keys()].filter((frame) => down.has(frame))).toEqual([]);
  });

  it('FI5: only what changed is made again', async () => {
    const folder = await drawn('changed');
    await makeFinals(day, { meetingFolder: folder });
    const [one] = day.arrangement.riders;
    const riders = day.arrangement.riders.map((rider) =>
      rider === one ? { ...rider, number: '46', numberSource: { kind: 'said' } as const } : rider,
    );
    const theirs = day.keepers.byRider.get(one!.key)!.length;
    const report = await makeFinals({ ...day, arrangement: { ...day.arrangement, riders } }, { meetingFolder: folder });
    expect(report).toMatchObject({ made: theirs, alreadyThere: kept.size - theirs });
  });

  it('FI5: are equal bit by bit for equal input', async () => {
    const folder = await drawn('equal');
    const { pictures } = await makeFinals(day, { meetingFolder: folder });
    const first = await Promise.all(pictures.map(({ path }) => readFile(path)));
    await rm(join(folder, 'made/finals'), { recursive: true });
    const again = await makeFinals(day, { meetingFolder: folder });
    const paths = pictures.map(({ path }) => path);
    expect(again.pictures.map(({ path }) => path).sort()).toEqual([...paths].sort());
    for (const [index, path] of paths.entries()) expect((await readFile(path)).equals(first[index]!), path).toBe(true);
  });

  it('FI9: of frames without a raw are made of the JPEG, and how many is said', async () => {
    const folder = await drawn('without-raw');
    expect(await makeFinals(day, { meetingFolder: folder, from: 'raw' })).toMatchObject({
      made: kept.size,
      withoutRaw: kept.size,
    });
  });

  it('FI10: a full disk leaves no half file under a final’s name, and there is a sentence; with room made it goes on', async () => {
    const folder = await drawn('full');
    const place = join(folder, 'made/finals');
    await mkdir(place, { recursive: true });
    const mount = (options: string) =>
      execFileSync('mount', ['-t', 'tmpfs', '-o', options, 'tmpfs', place], { stdio: 'pipe' });
    try {
      mount('size=64k');
    } catch {
      console.warn('1 test skipped: mounting a small disk needs the superuser');
      return;
    }
    try {
      const full = makeFinals(day, { meetingFolder: folder });
      await expect(full).rejects.toThrow(FinishError);
      await expect(full).rejects.toThrow(
        /Expected to write a final of \d+ bytes into .*finals, but ENOSPC.*make the finals again/,
      );
      const standing = await finalsIn(folder);
      expect(standing.length).toBeLessThan(kept.size);
      for (const name of standing) {
        expect(name).toMatch(/\.jpg$/);
        expect((await sharp(join(place, name), { failOn: 'truncated' }).raw().toBuffer()).length).toBe(900 * 600 * 3);
      }
      mount('remount,size=16m');
      expect(await makeFinals(day, { meetingFolder: folder })).toMatchObject({
        made: kept.size - standing.length,
        alreadyThere: standing.length,
        failed: [],
      });
    } finally {
      execFileSync('umount', ['-l', place]);
    }
  });
});
