import { execFileSync } from 'node:child_process';
import { appendFile, copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { logOf } from '../../../../test/builders/arrangement.js';
import { drawDay, galleryDay } from '../../../../test/builders/galleryDay.js';
import { exiftool } from '../../../../test/builders/pictures.js';
import { dngFile } from '../../../../test/fixtures/metadata/cameraFiles.js';
import type { FileId, FrameId } from '../../../core/ids.js';
import { FinishError, lookAtReturned, makeFinals, makeProofs, takeOut, takeReturned } from '../index.js';
import { startReaders } from './readers.js';
import { lookAtReturnedWith } from './takeBack.js';

const day = galleryDay({ riders: 3 });
const keeperOf = (index: number): FrameId => [...day.keepers.byRider.values()][index]![0]!.bike.frameId;
const exposureOf = (frame: FrameId) => day.arrangement.exposures.find(({ frameId }) => frameId === frame)!;

let root: string;
let meeting: string;
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-ways-'));
  meeting = join(root, 'meeting');
  await drawDay(day, meeting);
});
afterAll(() => rm(root, { recursive: true }));

const originalOf = (frame: FrameId) => join(meeting, 'cards/a1', exposureOf(frame).path);
const pictureOf = async (frame: FrameId) => originalOf(frame);
const taken = (to: string, more = {}) => takeOut(day, { meetingFolder: meeting, to, which: 'keepers', ...more });
const filesIn = async (folder: string): Promise<readonly string[]> =>
  (await readdir(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && !entry.name.startsWith('.'))
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();
/** That frame stands on the podium, by a person's word. */
const apartDay = (frame: FrameId) => ({
  ...day,
  arrangement: {
    ...day.arrangement,
    exposures: day.arrangement.exposures.map((one) =>
      one.frameId === frame
        ? { ...one, session: null, spot: null, apart: { is: 'podium', source: { kind: 'said' } } as const }
        : one,
    ),
  },
});
const look = (from: string, state = day) => lookAtReturned(state, { meetingFolder: meeting, from, pictureOf });

describe('the way out', () => {
  it('FI11: lays every rider’s keepers into a folder of their own, byte for byte, each with a sidecar', async () => {
    const to = join(root, 'out');
    const report = await taken(to);
    const kept = [...day.keepers.byRider.values()].flat().length;
    expect(report).toMatchObject({ folders: 3, frames: kept, written: 2 * kept + 1, leftAlone: [], missing: [] });
    const files = await filesIn(to);
    expect(files).toHaveLength(2 * kept + 1);
    const jpeg = files.find((path) => path.endsWith('.jpg'))!;
    expect(jpeg).toMatch(/^[a-z0-9-]+\/20260919-\d{6}-one-[0-9a-f]{2}-\d{4}\.jpg$/);
    expect(files).toContain(jpeg.replace(/jpg$/, 'xmp'));
    const exposure = day.arrangement.exposures.find(({ fileNumber }) =>
      jpeg.endsWith(`${String(fileNumber).padStart(4, '0')}.jpg`),
    )!;
    expect((await readFile(join(to, jpeg))).equals(await readFile(originalOf(exposure.frameId)))).toBe(true);
    expect((await readFile(join(to, 'list.csv'), 'utf8')).split('\r\n')).toHaveLength(kept + 2);
  });

  it('FI12: a sidecar is whole XML that exiftool reads, with title, creator and keywords, and rates nothing', async () => {
    const to = join(root, 'sidecars');
    await taken(to);
    const sidecar = join(to, (await filesIn(to)).find((path) => path.endsWith('.xmp'))!);
    try {
      execFileSync('xmllint', ['--noout', sidecar], { stdio: 'pipe' });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
      if (process.env.REQUIRE_ORACLES === '1')
        throw new Error('Expected xmllint for this check; install libxml2-utils.');
      console.warn('SKIPPED: xmllint is not installed (Debian: libxml2-utils); 1 check against it was not made.');
    }
    const read = exiftool(['-j', '-G1', '-struct', sidecar]);
    if (read === null) return;
    const [tags] = JSON.parse(read);
    expect(tags).toMatchObject({
      'XMP-dc:Title': expect.stringMatching(/^Ebbstone, [NF]\d, \w+, 09:/),
      'XMP-dc:Creator': ['R. Quill'],
      'XMP-dc:Subject': expect.arrayContaining(['Beacon']),
      'XMP-iptcExt:Event': 'Ebbstone',
      'XMP-plus:DataMining': expect.stringMatching(/Prohibited|DMI-PROHIBITED/),
    });
    expect(Object.keys(tags).join('\n')).not.toMatch(/Rating|Label|GPS|Serial/);
    expect(exiftool(['-validate', '-warning', '-a', '-s3', sidecar])).not.toMatch(/XMP|RDF/);
  });

  it('FI11: done twice writes nothing; what was changed there since, and what lay there before, is left alone', async () => {
    const to = join(root, 'changed');
    await taken(to);
    const files = await filesIn(to);
    expect(await taken(to)).toMatchObject({ written: 0, alreadyThere: files.length, leftAlone: [] });
    const sidecar = files.find((path) => path.endsWith('.xmp'))!;
    await appendFile(join(to, sidecar), '<!-- another program was here -->');
    const before = await readFile(join(to, sidecar), 'utf8');
    const renamed = galleryDay({ riders: 3 });
    const other = { ...renamed, about: { ...renamed.about, creator: 'A. Other' } };
    const report = await takeOut(other, { meetingFolder: meeting, to, which: 'keepers' });
    expect(report.leftAlone).toEqual([sidecar]);
    expect(report.written).toBe(files.filter((path) => path.endsWith('.xmp')).length - 1);
    expect(await readFile(join(to, sidecar), 'utf8')).toBe(before);
    const full = join(root, 'full');
    await mkdir(dirname(join(full, files[0]!)), { recursive: true });
    await writeFile(join(full, files[0]!), 'somebody’s');
    expect((await taken(full)).leftAlone).toEqual([files[0]]);
  });

  it('FI11: a raw goes out beside its JPEG under the same name, untouched', async () => {
    const frame = keeperOf(0);
    const exposure = exposureOf(frame);
    const rawPath = exposure.path.replace(/\.\w+$/, '.DNG');
    const raw = dngFile(
      await sharp({ create: { width: 300, height: 200, channels: 3, background: '#888' } })
        .jpeg()
        .toBuffer(),
      [300, 200],
    );
    await writeFile(join(meeting, 'cards/a1', rawPath), raw);
    const fileId = 'd'.repeat(32) as FileId;
    const [fill] = day.fills;
    const withRaw = {
      ...day,
      fills: [{ ...fill!, files: [{ path: rawPath, bytes: raw.length, modified: 0 as never, fileId }] }],
      arrangement: {
        ...day.arrangement,
        exposures: day.arrangement.exposures.map((one) =>
          one === exposure ? { ...one, files: [...one.files, fileId] } : one,
        ),
      },
    };
    const to = join(root, 'raws');
    await takeOut(withRaw, { meetingFolder: meeting, to, which: 'keepers' });
    const dng = (await filesIn(to)).filter((path) => path.endsWith('.dng'));
    expect(dng).toHaveLength(1);
    expect((await readFile(join(to, dng[0]!))).equals(raw)).toBe(true);
    expect(await filesIn(to)).toEqual(
      expect.arrayContaining([dng[0]!.replace('.dng', '.jpg'), dng[0]!.replace('.dng', '.xmp')]),
    );
    await rm(join(meeting, 'cards/a1', rawPath));
  });

  it('FI11: takes out every frame where that is wished, and says which files are not there', async () => {
    const lost = join(root, 'lost');
    await drawDay(day, lost);
    await rm(join(lost, 'cards/a1', exposureOf(keeperOf(1)).path));
    const report = await takeOut(day, { meetingFolder: lost, to: join(root, 'all'), which: 'all' });
    expect(report.frames).toBe(day.arrangement.exposures.length);
    expect(report.missing).toEqual([
      `Expected ${join(lost, 'cards/a1', exposureOf(keeperOf(1)).path)}, where bringing in laid it, but it is not there; bring its card in again.`,
    ]);
  });

  it('FI11: a file where the folder should be is said, and kept', async () => {
    const file = join(root, 'a file');
    await writeFile(file, 'somebody’s');
    const refused = taken(file);
    await expect(refused).rejects.toThrow(FinishError);
    await expect(refused).rejects.toThrow(/^Expected to write .*a file, but EEXIST.* A file stands where a folder/);
    expect(await readFile(file, 'utf8')).toBe('somebody’s');
  });

  it('FI10, FI11: what cannot be written down at the end is said in a sentence too', async () => {
    const to = join(root, 'unwritable');
    await mkdir(join(to, '.tyrewall-out.json'), { recursive: true });
    await expect(taken(to)).rejects.toThrow(/^Expected to write .*tyrewall-out\.json, but .* say the same again/);
  });

  it('FI10, FI11: killed before it wrote down what it laid, it goes on and knows its own by what they hold', async () => {
    const to = join(root, 'killed');
    const { written } = await taken(to);
    await rm(join(to, '.tyrewall-out.json'));
    const files = await filesIn(to);
    await rm(join(to, files[0]!));
    expect(await taken(to)).toMatchObject({ written: 1, alreadyThere: written - 1, leftAlone: [] });
    expect(await taken(to)).toMatchObject({ written: 0, alreadyThere: written, leftAlone: [] });
  });

  it('FI11: what was taken down since is taken away again, its row with it; what was changed there stays and is named', async () => {
    const to = join(root, 'down');
    const { written } = await taken(to);
    const [first, second] = [exposureOf(keeperOf(0)), exposureOf(keeperOf(1))];
    const nameOf = ({ fileNumber }: typeof first) => String(fileNumber).padStart(4, '0');
    const filesOf = async (one: typeof first) => (await filesIn(to)).filter((path) => path.includes(nameOf(one)));
    const [mine, theirs] = [await filesOf(first), (await filesOf(second)).find((path) => path.endsWith('.xmp'))!];
    expect(mine).toHaveLength(2);
    await appendFile(join(to, theirs), '<!-- mine -->');
    const log = logOf([first, second].map(({ mainFile }) => ({ kind: 'take-down', file: mainFile }) as const));
    const report = await takeOut({ ...day, log }, { meetingFolder: meeting, to, which: 'keepers' });
    expect([...report.takenAway].sort()).toEqual([...mine, theirs.replace('.xmp', '.jpg')].sort());
    expect(report.takenDownThere).toEqual([theirs]);
    expect(await filesOf(first)).toEqual([]);
    expect(await filesOf(second)).toEqual([theirs]);
    const list = await readFile(join(to, 'list.csv'), 'utf8');
    for (const one of [first, second]) expect(list).not.toContain(one.path);
    expect(await taken(to)).toMatchObject({ written: 4, alreadyThere: written - 5, leftAlone: [theirs] });
    const all = logOf(
      day.arrangement.exposures.map(({ mainFile }) => ({ kind: 'take-down', file: mainFile }) as const),
    );
    await takeOut({ ...day, log: all }, { meetingFolder: meeting, to, which: 'keepers' });
    expect(await filesIn(to)).toEqual([theirs, 'list.csv']);
    expect((await readFile(join(to, 'list.csv'), 'utf8')).split('\r\n')).toHaveLength(2);
  });

  it('FI11, FI20: frames kept apart that are finished go out into a folder of their own, unless they were taken down', async () => {
    const frame = keeperOf(0);
    const apart = apartDay(frame);
    const to = join(root, 'apart-out');
    const keepers = { ...day.keepers, byRider: new Map() };
    await takeOut({ ...apart, keepers }, { meetingFolder: meeting, to, which: 'keepers' });
    const files = await filesIn(to);
    expect(files.map((path) => path.replace(/\d{8}.*\./, '*.'))).toEqual([
      'list.csv',
      'paddock-and-podium/*.jpg',
      'paddock-and-podium/*.xmp',
    ]);
    const log = logOf([{ kind: 'take-down', file: exposureOf(frame).mainFile }]);
    for (const which of ['keepers', 'all'] as const)
      await takeOut({ ...apart, keepers, log }, { meetingFolder: meeting, to, which });
    const name = files[1]!.split('/')[1]!;
    expect((await filesIn(to)).filter((path) => path.endsWith(name))).toEqual([]);
  });

  it('FI11: refuses a folder inside the meeting', async () => {
    await expect(taken(join(meeting, 'cards/out'))).rejects.toThrow(FinishError);
    await expect(taken(meeting)).rejects.toThrow(/outside the meeting/);
  });
});

describe('the way back', { timeout: 180_000 }, () => {
  /** The keeper of the first rider, toned and cut elsewhere, under the name it went out with and another. */
  async function returnedIn(name: string): Promise<string> {
    const out = join(root, `${name}-out`);
    const back = join(root, `${name}-back`);
    await mkdir(back, { recursive: true });
    await taken(out);
    const number = String(exposureOf(keeperOf(0)).fileNumber).padStart(4, '0');
    const went = (await filesIn(out)).find((path) => path.endsWith(`${number}.jpg`))!;
    const edited = sharp(join(out, went))
      .extract({ left: 120, top: 60, width: 640, height: 480 })
      .modulate({ brightness: 1.15 });
    await edited.jpeg({ quality: 90 }).toFile(join(back, `${went.split('/').at(-1)!.replace('.jpg', '')} print.jpg`));
    return back;
  }

  it('FI14: a picture cut and toned elsewhere finds its frame; its final is made of it from then on', async () => {
    const back = await returnedIn('edited');
    const found = await look(back);
    expect(found).toMatchObject([{ kind: 'attached', frameId: keeperOf(0), by: ['content', 'name'] }]);
    const decisions = await takeReturned(day, { meetingFolder: meeting, from: back, pictureOf }, found);
    expect(decisions).toMatchObject([
      { kind: 'finished-elsewhere', file: exposureOf(keeperOf(0)).mainFile, extension: 'jpg' },
    ]);
    const state = { ...day, log: logOf(decisions) };
    const { pictures } = await makeFinals(state, { meetingFolder: meeting, only: new Set([keeperOf(0)]) });
    expect(pictures).toMatchObject([{ widthPx: 640, heightPx: 480 }]);
    const { proofs } = await makeProofs(state, { meetingFolder: meeting });
    expect(proofs.get(keeperOf(0))).toMatchObject({ widthPx: 640, heightPx: 480 });
    expect(await look(back, state)).toMatchObject([{ kind: 'already-here' }]);
    // Taken back in the log, it is the camera's again.
    const again = await makeFinals(day, { meetingFolder: meeting, only: new Set([keeperOf(0)]) });
    expect(again.pictures).toMatchObject([{ widthPx: 900, heightPx: 600 }]);
  });

  it('FI14: what came back as it went out, or is no picture, is said to be that', async () => {
    const back = join(root, 'plain-back');
    await mkdir(back);
    const { pictures } = await makeFinals(day, { meetingFolder: meeting });
    await copyFile(pictures[0]!.path, join(back, pictures[0]!.path.split('/').at(-1)!));
    await writeFile(join(back, 'torn.jpg'), 'no picture');
    await writeFile(join(back, 'words.txt'), 'passed over');
    const found = await look(back);
    expect(found.map(({ path, kind }) => [path.slice(-8), kind]).sort()).toEqual(
      [
        [pictures[0]!.path.slice(-8), 'unchanged'],
        ['torn.jpg', 'unreadable'],
      ].sort(),
    );
  });

  it('FI14: a final of a frame kept apart is known as it went out, whatever it is called now', async () => {
    const back = join(root, 'apart-back');
    await mkdir(back);
    const { pictures } = await makeFinals(apartDay(keeperOf(0)), { meetingFolder: meeting });
    const final = pictures.find(({ frameId }) => frameId === keeperOf(0))!.path;
    expect(final).toContain('paddock-and-podium');
    await copyFile(final, join(back, final.split('/').at(-1)!));
    await copyFile(final, join(back, 'the winner.jpg'));
    expect((await look(back)).map(({ kind }) => kind)).toEqual(['unchanged', 'unchanged']);
  });

  it('FI14: a picture of a frame that was taken down is not attached', async () => {
    const back = await returnedIn('down');
    const state = { ...day, log: logOf([{ kind: 'take-down', file: exposureOf(keeperOf(0)).mainFile }]) };
    const found = await look(back, state);
    expect(found).toMatchObject([{ kind: 'taken-down', frameId: keeperOf(0) }]);
    expect(await takeReturned(state, { meetingFolder: meeting, from: back, pictureOf }, found)).toEqual([]);
  });

  it('FI14: a picture that kills whoever reads it costs itself alone', async () => {
    const back = await returnedIn('killing');
    await writeFile(join(back, 'bomb.jpg'), 'kills whoever reads it');
    const readers = startReaders({
      childModule: new URL('../../../../test/fixtures/finish/nastyReadingChild.ts', import.meta.url),
    });
    const found = await lookAtReturnedWith(readers, day, { meetingFolder: meeting, from: back, pictureOf }).finally(
      () => readers.close(),
    );
    expect(found.map(({ kind }) => kind)).toEqual(['attached', 'unreadable']);
    expect(found[1]).toMatchObject({ path: 'bomb.jpg', why: 'twice the reader ended unexpectedly (SIGKILL)' });
  });

  it('FI14: what is written to between looking and taking is not taken', async () => {
    const back = await returnedIn('moving');
    const found = await look(back);
    await appendFile(join(back, found[0]!.path), ' ');
    await expect(takeReturned(day, { meetingFolder: meeting, from: back, pictureOf }, found)).rejects.toThrow(
      /^Expected .* as it was looked at, but it was written to since/,
    );
  });

  it('FI14: another picture under a frame’s name is a question, and one of nothing here is left', async () => {
    const back = join(root, 'strange-back');
    await mkdir(back);
    const strange = sharp(
      Buffer.from(
        '<svg xmlns="http://www.w3.org/2000/svg" width="900" height="600"><rect width="900" height="600" fill="#456"/><path d="M0 0L900 600M900 0L0 600M450 0V600" stroke="#fff" stroke-width="30"/></svg>',
      ),
    );
    const camera = exposureOf(keeperOf(0)).path.split('/').at(-1)!;
    await strange.clone().jpeg().toFile(join(back, camera));
    await strange.clone().jpeg().toFile(join(back, 'holiday.jpg'));
    const found = await look(back);
    expect(found.find(({ path }) => path === camera)).toMatchObject({ kind: 'unsure', candidates: [keeperOf(0)] });
    expect(found.find(({ path }) => path === 'holiday.jpg')).toMatchObject({ kind: 'unknown' });
    expect(await takeReturned(day, { meetingFolder: meeting, from: back, pictureOf }, found)).toEqual([]);
  });

  it('FI14: laid on its side, it looks like nothing here; under its full name it is taken where a person says that names hold', async () => {
    const back = await returnedIn('on-its-side');
    const file = join(back, (await filesIn(back))[0]!);
    await writeFile(file, await sharp(file).rotate(90).toBuffer());
    expect(await look(back)).toMatchObject([{ kind: 'unsure', candidates: [keeperOf(0)] }]);
    const options = { meetingFolder: meeting, from: back, pictureOf, believesNames: true };
    const found = await lookAtReturned(day, options);
    expect(found).toMatchObject([{ kind: 'attached', frameId: keeperOf(0), by: ['name'] }]);
    expect(await takeReturned(day, options, found)).toMatchObject([{ file: exposureOf(keeperOf(0)).mainFile }]);
  });

  it('FI14: frames of one second that look alike are not told apart by their time alone', async () => {
    const back = join(root, 'second-back');
    await mkdir(back);
    const { pictures } = await makeFinals(day, { meetingFolder: meeting });
    for (const [index, { path }] of pictures.entries()) {
      await sharp(path)
        .modulate({ brightness: 1.1 })
        .keepExif()
        .jpeg()
        .toFile(join(back, `without-name-${index}.jpg`));
    }
    const found = await look(back);
    expect(found).toHaveLength(pictures.length);
    for (const one of found) {
      const { frameId } = pictures[Number(/\d+/.exec(one.path))]!;
      expect(one).toMatchObject({ kind: 'unsure', why: expect.stringContaining('several frames') });
      expect(one.kind === 'unsure' && one.candidates).toContain(frameId);
    }
  });
});
