import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildDay, fileIdOf, logOf, type PassSpec } from '../../../test/builders/arrangement.js';
import { DRAWN_BOX, drawPicture, exiftool, PRIVATE_WORDS } from '../../../test/builders/pictures.js';
import type { Fill } from '../../core/bringin/types.js';
import { chooseKeepers } from '../../core/choose/index.js';
import { cover } from '../../core/cover/index.js';
import { type PictureWords, planProof } from '../../core/finish/index.js';
import type { FrameId, MeetingId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { Box } from '../../core/measure/types.js';
import type { EpochMs, WallMs } from '../../core/units.js';
import type { MeetingAbout } from '../meeting/types.js';
import { FinishError, type FinishState, makeProofs } from './index.js';
import { makePicture } from './makePicture.js';
import { type MarkOf, markPixels } from './mark.js';

const FRAME = '0123456789abcdef0123456789abcdef' as FrameId;
const WORDS: PictureWords = {
  title: null,
  keywords: [],
  creator: 'R. Quíll & Söhne',
  credit: 'R. Quíll',
  copyright: '© 2026 R. Quíll',
  event: 'Ebbstone <open> day',
  contact: 'pictures@example.invalid',
  usageTerms: 'Proof only.',
  captured: { wall: Date.UTC(2026, 8, 19, 10, 43, 12) as WallMs, instant: Date.UTC(2026, 8, 19, 9, 43, 12) as EpochMs },
};

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-finish-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function oneProof(name: string, words = WORDS, spec: Parameters<typeof drawPicture>[1] = {}) {
  const original = join(folder, `${name}-original.jpg`);
  const to = join(folder, `${name}-proof.jpg`);
  await drawPicture(original, { widthPx: 2100, heightPx: 1400, ...spec });
  const outcome = await makePicture({
    frameId: FRAME,
    original,
    plan: planProof(words, { subjectBoxes: [DRAWN_BOX] }),
    to,
  });
  expect(outcome.kind === 'failed' ? outcome.sentence : '').toBe('');
  return { original, to, outcome };
}

/** Which pixels of a grey picture of 1400 × 933 a mark changes so that it can be seen. */
async function markedPixels(boxes: readonly Box[], mark: MarkOf): Promise<(x: number, y: number) => boolean> {
  const data = Buffer.alloc(1400 * 933 * 3, 90);
  await markPixels({ data, size: { widthPx: 1400, heightPx: 933 } }, boxes, mark);
  return (x, y) => Math.abs(data[(y * 1400 + x) * 3]! - 90) > 12;
}

describe('a proof', () => {
  it('is 1,400 px on its long edge, upright, in sRGB with its profile', async () => {
    const lying = await sharp((await oneProof('lying')).to).metadata();
    expect(lying).toMatchObject({ width: 1400, height: 933, format: 'jpeg', space: 'srgb', hasProfile: true });
    expect(lying.icc!.toString('latin1').replaceAll('\0', '')).toContain('sRGB');
    const turned = await sharp((await oneProof('turned', WORDS, { orientation: 6 })).to).metadata();
    expect(turned).toMatchObject({ width: 933, height: 1400 });
    expect(turned.orientation ?? 1).toBe(1);
  });

  it('is never enlarged', async () => {
    const { to } = await oneProof('small', WORDS, { widthPx: 640, heightPx: 427 });
    expect(await sharp(to).metadata()).toMatchObject({ width: 640, height: 427 });
  });

  it('carries creator, credit, copyright, event, date, contact and terms in IPTC and XMP, as exiftool reads them', async () => {
    const { to } = await oneProof('words');
    const read = exiftool(['-j', '-G1', '-struct', '-charset', 'iptc=UTF8', to]);
    if (read === null) return;
    expect(JSON.parse(read)[0]).toMatchObject({
      'IPTC:By-line': 'R. Quíll & Söhne',
      'IPTC:Credit': 'R. Quíll',
      'IPTC:CopyrightNotice': '© 2026 R. Quíll',
      'IPTC:DateCreated': '2026:09:19',
      'IPTC:TimeCreated': '10:43:12+01:00',
      'IPTC:Contact': 'pictures@example.invalid',
      'XMP-dc:Creator': ['R. Quíll & Söhne'],
      'XMP-dc:Rights': '© 2026 R. Quíll',
      'XMP-photoshop:Credit': 'R. Quíll',
      'XMP-photoshop:DateCreated': '2026:09:19 10:43:12+01:00',
      'XMP-iptcExt:Event': 'Ebbstone <open> day',
      'XMP-xmpRights:UsageTerms': 'Proof only.',
      'XMP-iptcCore:CreatorContactInfo': { CiEmailWork: 'pictures@example.invalid' },
      'XMP-plus:DataMining': expect.stringMatching(/Prohibited|DMI-PROHIBITED/),
      'ExifIFD:DateTimeOriginal': '2026:09:19 10:43:12',
    });
    expect(JSON.parse(read)[0]).not.toHaveProperty('IFD0:Artist');
    expect(exiftool(['-validate', '-warning', '-a', '-s3', to])).not.toMatch(/IPTC|XMP|ICC/);
  });

  it('holds no position, serial number, maker note, software or private note: by exiftool and byte by byte', async () => {
    const { original, to } = await oneProof('private');
    const before = await readFile(original);
    const after = await readFile(to);
    expect(before.includes(PRIVATE_WORDS.serial)).toBe(true);
    for (const word of [PRIVATE_WORDS.serial, PRIVATE_WORDS.note, PRIVATE_WORDS.software, 'Invented', FRAME]) {
      expect(after.includes(word), word).toBe(false);
    }
    const read = exiftool(['-j', '-G1', '-a', to]);
    if (read === null) return;
    expect(exiftool(['-j', '-G1', '-a', original])).toMatch(/GPSLatitude/);
    const tags = Object.keys(JSON.parse(read)[0]).filter((tag) => !tag.startsWith('ICC'));
    expect(tags.length).toBeGreaterThan(20);
    expect(tags.join('\n')).not.toMatch(/GPS|Serial|MakerNote|UserComment|Model|Make$/m);
  });

  it('is marked across the subject, so that a crop of the subject is marked too', async () => {
    const { original, to } = await oneProof('marked');
    const [left, top, width, height] = DRAWN_BOX;
    const region = {
      left: Math.round(left * 1400),
      top: Math.round(top * 933),
      width: Math.round(width * 1400),
      height: Math.round(height * 933),
    };
    const plain = await sharp(original).resize(1400, 933).extract(region).removeAlpha().raw().toBuffer();
    const marked = await sharp(to).extract(region).removeAlpha().raw().toBuffer();
    let changed = 0;
    for (let i = 0; i < plain.length; i += 3) if (Math.abs(plain[i]! - marked[i]!) > 20) changed += 1;
    expect(changed / (plain.length / 3)).toBeGreaterThan(0.04);
  });

  it('HO12: leaves no quarter of the picture without a mark', async () => {
    const isMarked = await markedPixels([[0.1, 0.1, 0.2, 0.2]], { text: 'proof, R. Quill' });
    const markedIn = (x0: number, y0: number) => {
      let sum = 0;
      for (let y = y0; y < y0 + 466; y += 2) for (let x = x0; x < x0 + 700; x += 2) if (isMarked(x, y)) sum += 1;
      return sum;
    };
    for (let x = 0; x <= 700; x += 100)
      for (let y = 0; y <= 466; y += 93) expect(markedIn(x, y), `${x},${y}`).toBeGreaterThan(400);
  });

  it('is marked even where the font lacks the letters of the credit', async () => {
    const isMarked = await markedPixels([[0.3, 0.3, 0.4, 0.4]], { text: '写真館の人々' });
    const along = Array.from({ length: 1400 }, (_, x) => isMarked(x, 466)).filter(Boolean);
    expect(along.length).toBeGreaterThan(100);
  });

  it('of a damaged or missing file is a sentence, and nothing is left behind', async () => {
    const original = join(folder, 'torn.jpg');
    const to = join(folder, 'torn-proof.jpg');
    await drawPicture(original);
    await writeFile(original, (await readFile(original)).subarray(0, 4000));
    const plan = planProof(WORDS, { subjectBoxes: [] });
    const torn = await makePicture({ frameId: FRAME, original, plan, to });
    expect(torn).toMatchObject({
      kind: 'failed',
      sentence: expect.stringContaining(`Expected a whole picture in ${original}, 4000 bytes`),
    });
    const gone = await makePicture({ frameId: FRAME, original: join(folder, 'gone.jpg'), plan, to });
    expect(gone).toMatchObject({ kind: 'failed', sentence: expect.stringContaining('bring its card in again') });
    await expect(stat(to)).rejects.toThrow();
  });
});

const ABOUT: MeetingAbout = {
  id: '00000000-0000-4000-8000-00000000000a' as MeetingId,
  format: 1,
  name: 'Ebbstone',
  firstDay: '2026-09-19',
  lastDay: '2026-09-19',
  zone: 'Europe/London',
  spots: [],
  creator: 'R. Quill',
};
const PASSES: PassSpec[] = ['a', 'b', 'c'].map((rider, i) => ({
  rider,
  session: 0,
  spot: null,
  at: `09:0${i + 1}:00`,
  frames: [{ sharp: 1 }, { sharp: 0.5 }],
}));

/** A meeting of three riders, two frames each, with its files under `cards/`. */
async function meetingOf(decisions: readonly Decision[] = [], about = ABOUT) {
  const day = buildDay({ sessions: [{ name: 'N1', group: 'N', start: '09:00', end: '09:20' }], passes: PASSES });
  const log = logOf(decisions);
  const coverage = cover({ ...day, stands: [], spots: [], timetable: null, entries: null, now: null });
  const keepers = chooseKeepers({ ...day, coverage, log });
  const fills: readonly Fill[] = [
    { id: day.arrangement.exposures[0]!.fill, folder: 'a1', firstBroughtIn: 0 as EpochMs, files: [], generations: 1 },
  ];
  return { ...day, keepers, log, fills, about } satisfies FinishState;
}

async function cardsFor(state: FinishState, name: string): Promise<string> {
  const meetingFolder = join(folder, name);
  await mkdir(join(meetingFolder, 'cards/a1/DCIM/100INVEN'), { recursive: true });
  for (const exposure of state.arrangement.exposures) await drawPicture(join(meetingFolder, 'cards/a1', exposure.path));
  return meetingFolder;
}

describe('the proofs of a meeting', () => {
  it('are made of every keeper, and a second run makes nothing', async () => {
    const state = await meetingOf();
    const meetingFolder = await cardsFor(state, 'twice');
    const progress: number[] = [];
    const first = await makeProofs(state, { meetingFolder, onProgress: ({ done }) => progress.push(done) });
    expect(first).toMatchObject({ made: 3, alreadyThere: 0, failed: [], wasStopped: false });
    expect(progress).toEqual([1, 2, 3]);
    expect(await makeProofs(state, { meetingFolder })).toMatchObject({ made: 0, alreadyThere: 3 });
  });

  it('are made again when the words change, and the old ones go', async () => {
    const meetingFolder = await cardsFor(await meetingOf(), 'changed');
    await makeProofs(await meetingOf(), { meetingFolder });
    const changed = await meetingOf([], { ...ABOUT, credit: 'Quill & Partner' });
    expect(await makeProofs(changed, { meetingFolder })).toMatchObject({ made: 3, alreadyThere: 0, removed: 3 });
    expect(await readdir(join(meetingFolder, 'made/proofs'))).toHaveLength(3);
  });

  it('go on after being stopped or killed, without half files', async () => {
    const state = await meetingOf();
    const meetingFolder = await cardsFor(state, 'stopped');
    const stop = new AbortController();
    const first = await makeProofs(state, {
      meetingFolder,
      signal: stop.signal,
      atOnce: 1,
      onProgress: () => stop.abort(),
    });
    expect(first).toMatchObject({ made: 1, wasStopped: true });
    await writeFile(join(meetingFolder, 'made/proofs/.unfinished-left-by-a-kill'), 'half');
    expect(await makeProofs(state, { meetingFolder })).toMatchObject({ made: 2, alreadyThere: 1, wasStopped: false });
    expect(await readdir(join(meetingFolder, 'made/proofs'))).toHaveLength(3);
  });

  it('are made anew where one was damaged afterwards', async () => {
    const state = await meetingOf();
    const meetingFolder = await cardsFor(state, 'damaged');
    const { proofs } = await makeProofs(state, { meetingFolder });
    await writeFile([...proofs.values()][0]!.path, 'rot');
    expect(await makeProofs(state, { meetingFolder })).toMatchObject({ made: 1, alreadyThere: 2 });
  });

  it('cost a bad frame only itself, with a sentence', async () => {
    const state = await meetingOf();
    const meetingFolder = await cardsFor(state, 'bad');
    const bad = state.arrangement.exposures.find((one) => one.frameId === state.frames[1]![0])!;
    await writeFile(join(meetingFolder, 'cards/a1', bad.path), 'not a picture');
    const report = await makeProofs(state, { meetingFolder });
    expect(report).toMatchObject({ made: 2, failed: [{ frameId: bad.frameId }] });
    // Two bodies of one make give the same names: where it lies tells them apart.
    const where = join(meetingFolder, 'cards/a1', bad.path);
    expect(report.failed[0]!.sentence).toContain(`Expected a whole picture in ${where}, 13 bytes`);
  });

  it('are not made of what was taken down, and an older one is removed', async () => {
    const meetingFolder = await cardsFor(await meetingOf(), 'down');
    await makeProofs(await meetingOf(), { meetingFolder });
    const down = await meetingOf([{ kind: 'take-down', file: fileIdOf(1) }]);
    const report = await makeProofs(down, { meetingFolder });
    expect(report.removed).toBe(1);
    expect([...report.proofs.keys()]).not.toContain(down.frames[0]![0]);
  });

  it('refuse a meeting folder that is not there, kindly', async () => {
    const refused = makeProofs(await meetingOf(), { meetingFolder: join(folder, 'nowhere') });
    await expect(refused).rejects.toThrow(FinishError);
    await expect(refused).rejects.toThrow(/Expected the meeting folder at .*nowhere/);
  });
});
