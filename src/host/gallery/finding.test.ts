import { existsSync } from 'node:fs';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawDay, type GalleryDaySpec, galleryDay } from '../../../test/builders/galleryDay.js';
import { ownSetId } from '../../core/handover/find/index.js';
import type { RiderId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import { layOut, type MakeGalleryOptions, makeGallery, publicIdsOf } from './index.js';
import { filesIn } from './takeDown.js';

const SECRET = 'ab'.repeat(32);
const idOf = publicIdsOf(SECRET);
const ABOUT = { r0: { id: 'first' }, r1: { id: 'second' } };
const link = (rider: string, salt: string | null): Decision => ({ kind: 'own-link', rider: rider as RiderId, salt });
const pageOf = (rider: string, salt: string) => `mine/${ownSetId(rider as RiderId, salt, idOf)}.html`;

let root: string;
let meeting: string;
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-finding-'));
  meeting = join(root, 'meeting');
  await drawDay(galleryDay({ riders: 3 }), meeting);
});
afterAll(() => rm(root, { recursive: true }));

const make = (decisions: readonly Decision[] = [], more: Partial<MakeGalleryOptions> = {}, spec: GalleryDaySpec = {}) =>
  makeGallery({
    state: galleryDay({ riders: 3, about: ABOUT, decisions, ...spec }),
    meetingFolder: meeting,
    secret: SECRET,
    ...more,
  });

describe('a gallery laid elsewhere', { timeout: 240_000 }, () => {
  const out = () => join(root, 'out');

  it('FN30: stands first with one best picture of each rider, then whole, under the same addresses', async () => {
    const first = await make([], { onlyBest: true });
    expect(first).toMatchObject({ riders: 3, pictures: 3 });
    await layOut(first.folder, meeting, out());
    const early = (await filesIn(out())).filter((path) => path.startsWith('rider/'));
    expect(early).toHaveLength(3);
    const proofs = await readdir(join(meeting, 'made/proofs'));
    const whole = await make();
    expect(whole.pictures).toBeGreaterThan(3);
    for (const proof of proofs) expect(await readdir(join(meeting, 'made/proofs'))).toContain(proof);
    await layOut(whole.folder, meeting, out());
    expect((await filesIn(out())).filter((path) => path.startsWith('rider/')).sort()).toEqual(early.sort());
    expect([...(await filesIn(out()))].sort()).toEqual([...(await filesIn(whole.folder))].sort());
    for (const path of await filesIn(out()))
      expect((await readFile(join(out(), path))).equals(await readFile(join(whole.folder, path))), path).toBe(true);
  });

  it('FN30: one picture of each first takes no proof away that was there', async () => {
    const before = await readdir(join(meeting, 'made/proofs'));
    await make([], { onlyBest: true, edition: 'other' });
    expect(await readdir(join(meeting, 'made/proofs'))).toEqual(before);
  });

  it('FN31: laid out again it writes what changed alone, takes away what is shown no more, and leaves what is not its own', async () => {
    const whole = await make();
    await layOut(whole.folder, meeting, out());
    await writeFile(join(out(), 'mine.html'), 'mine');
    expect(await layOut(whole.folder, meeting, out())).toEqual({ written: 0, removed: 0 });
    const down = await make([{ kind: 'take-down', rider: 'first' as RiderId }]);
    expect((await layOut(down.folder, meeting, out())).removed).toBeGreaterThan(3);
    expect(existsSync(join(out(), `rider/${idOf('rider', 'first')}.html`))).toBe(false);
    expect(existsSync(join(out(), 'mine.html'))).toBe(true);
    for (const path of await filesIn(out()))
      expect((await readFile(join(out(), path))).includes(idOf('rider', 'first')), path).toBe(false);
  });

  it('FN31: never into the meeting’s own folder, nor over it', async () => {
    for (const place of [meeting, join(meeting, 'made/gallery/web'), root])
      await expect(layOut(join(meeting, 'made/gallery/2026-09-19'), meeting, place)).rejects.toThrow(
        /Expected a folder outside the meeting for its gallery/,
      );
  });
});

describe('private links', { timeout: 240_000 }, () => {
  it('FN11: one that is made anew or ended leaves every edition at once, and the others stay', async () => {
    const said = [link('first', 'a1'), link('second', 'b2')];
    const one = await make(said);
    await make(said, { edition: 'older' });
    const older = join(meeting, 'made/gallery/older');
    for (const folder of [one.folder, older])
      for (const path of [pageOf('first', 'a1'), pageOf('second', 'b2'), `ar/${pageOf('first', 'a1')}`])
        expect(existsSync(join(folder, path)), path).toBe(true);
    await make([...said, link('first', 'a3')]);
    expect(existsSync(join(one.folder, pageOf('first', 'a3')))).toBe(true);
    for (const folder of [one.folder, older]) {
      for (const path of [pageOf('first', 'a1'), `ar/${pageOf('first', 'a1')}`])
        expect(existsSync(join(folder, path)), path).toBe(false);
      expect(existsSync(join(folder, pageOf('second', 'b2')))).toBe(true);
    }
    await make([...said, link('first', 'a3'), link('first', null)]);
    expect((await filesIn(one.folder)).filter((path) => path.includes('mine/')).length).toBe(6);
  });

  it('FN11: ends with its rider’s takedown, and no index is left in an edition that named them', async () => {
    const said = [link('first', 'a1')];
    await make(said, { edition: 'older' });
    const older = join(meeting, 'made/gallery/older');
    expect(existsSync(join(older, pageOf('first', 'a1')))).toBe(true);
    expect(existsSync(join(older, 'find/top.txt'))).toBe(true);
    const now = await make([...said, { kind: 'take-down', rider: 'first' as RiderId }]);
    expect(existsSync(join(older, pageOf('first', 'a1')))).toBe(false);
    expect(existsSync(join(older, 'find'))).toBe(false);
    expect(existsSync(join(now.folder, 'find/top.txt'))).toBe(true);
  });

  it('FN10: an address has 128 bits of a keyed hash and nothing in common with the public one', () => {
    const ids = [
      idOf('rider', 'first'),
      ownSetId('first' as RiderId, 'a1', idOf),
      ownSetId('first' as RiderId, 'a2', idOf),
    ];
    for (const id of ids) expect(id).toMatch(/^[0-9a-f]{32}$/);
    expect(new Set(ids).size).toBe(3);
  });
});
