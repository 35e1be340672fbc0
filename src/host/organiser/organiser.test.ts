/** Rules OG6, OG7, OG10, OG11, OG18, OG27 of docs/rules/organiser.md. */
import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ExifReader from 'exifreader';
import Papa from 'papaparse';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { wallAt } from '../../../test/builders/arrangement.js';
import { drawDay, galleryDay } from '../../../test/builders/galleryDay.js';
import { type ClientsView, SET_WISH, type SetPicture } from '../../core/handover/organiser/index.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { epochMsOf } from '../../core/units.js';
import { clientsPage } from './clientsPage.js';
import { csvText } from './csvText.js';
import { readHanded } from './handed.js';
import { type HandWish, handToOrganiser } from './handToOrganiser.js';
import { organiserSet } from './organiserOfDay.js';

const day = galleryDay({ riders: 3, about: { r0: { number: '46' } } });
const about = { ...day.about, organiser: { name: 'Ebbstone Riders', pictures: 4 } };
const state = { ...day, about, metadata: new Map<string, FileMetadata>() };
const set = organiserSet(state, day, {});

let meetingFolder: string;
let out: string;
beforeAll(async () => {
  meetingFolder = await mkdtemp(join(tmpdir(), 'tyrewall-organiser-'));
  out = await mkdtemp(join(tmpdir(), 'tyrewall-handed-'));
  await drawDay(day, meetingFolder);
});
afterAll(() => Promise.all([meetingFolder, out].map((folder) => rm(folder, { recursive: true }))));

const hand = (pictures: readonly SetPicture[], more: Partial<HandWish> = {}) =>
  handToOrganiser(state, pictures, {
    is: 'set',
    out,
    meetingFolder,
    longEdgePx: 400,
    contact: 'pictures@example.org',
    nameOf: () => null,
    now: { at: epochMsOf(0), wall: wallAt('17:00:00') },
    atOnce: 1,
    ...more,
  });

describe('what is handed to the organiser', { timeout: 180_000 }, () => {
  it('OG6: is as many as agreed, as files of the size that was said, with credit, terms and no number of a camera in them', async () => {
    expect(set.pictures.length).toBe(4);
    const report = await hand(set.pictures);
    expect(report).toMatchObject({ pictures: 4, made: 4, failed: [] });
    const files = (await readdir(join(out, 'pictures'))).sort();
    expect(files.map((file) => file.slice(0, 3))).toEqual(['01-', '02-', '03-', '04-']);
    for (const file of files) {
      const bytes = await readFile(join(out, 'pictures', file));
      const { width, height } = await sharp(bytes).metadata();
      expect(Math.max(width, height)).toBe(400);
      const tags = ExifReader.load(bytes, { expanded: true });
      expect(tags.xmp?.UsageTerms?.description).toContain('For Ebbstone Riders, to show and tell of Ebbstone');
      expect(tags.xmp?.Credit?.description).toBe('R. Quill');
      expect(tags.iptc?.['By-line']).toMatchObject({ description: 'R. Quill' });
      expect(tags.gps).toBeUndefined();
    }
  });

  it('OG6: comes with a contact sheet, captions and terms', async () => {
    const pdf = await readFile(join(out, 'contact-sheet.pdf'));
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(pdf.toString('latin1').match(/\/Subtype \/Image/g)?.length).toBe(4);
    const text = await readFile(join(out, 'captions.csv'), 'utf8');
    const { data, meta } = Papa.parse<Record<string, string>>(text.slice(1).trim(), { header: true });
    expect(meta.fields?.slice(0, 3)).toEqual(['no', 'file', 'date']);
    expect(data.map(({ no }) => no)).toEqual(['1', '2', '3', '4']);
    const files = await readdir(join(out, 'pictures'));
    for (const { file } of data) expect(files).toContain(file);
    expect(await readFile(join(out, 'terms.txt'), 'utf8')).toContain('What you may not do');
    expect(await readdir(out)).not.toContain('share.json');
  });

  it('OG7: made again makes nothing anew, and what left the set leaves the folder; what somebody laid there stays', async () => {
    await writeFile(join(out, 'pictures', 'their notes.jpg'), 'theirs');
    const [first] = (await readdir(join(out, 'pictures'))).sort();
    const before = await stat(join(out, 'pictures', first!));
    expect((await hand(set.pictures)).made).toBe(0);
    expect((await stat(join(out, 'pictures', first!))).mtimeMs).toBe(before.mtimeMs);
    await hand(set.pictures.slice(0, 2));
    expect((await readdir(join(out, 'pictures'))).length).toBe(3);
    const handed = await readHanded(meetingFolder);
    expect(handed.map(({ pictures }) => pictures.length)).toEqual([4, 4, 2]);
    expect(JSON.stringify(handed)).not.toContain(meetingFolder);
  });

  it('OG7: a picture that cannot be read costs itself alone, and is said', async () => {
    const torn = day.arrangement.exposures.find(({ frameId }) => frameId === set.pictures[3]!.frameId)!;
    await writeFile(join(meetingFolder, 'cards/a1', torn.path), 'torn');
    const report = await hand(set.pictures, { longEdgePx: 300 });
    expect(report.pictures).toBe(3);
    expect(report.failed.length).toBe(1);
    const text = await readFile(join(out, 'captions.csv'), 'utf8');
    expect(text.trim().split('\r\n').length).toBe(4);
  });

  it('OG7: nothing is laid among the meeting’s own files', async () => {
    await expect(hand(set.pictures, { out: join(meetingFolder, 'cards') })).rejects.toThrow(
      "Expected a folder for the organiser's pictures outside the meeting, or within its made/",
    );
  });

  it('OG6: fifteen, where nothing was agreed', () => {
    expect(SET_WISH.pictures).toBe(15);
  });
});

describe('tables', () => {
  it('OG11, OG27: no text of them is a formula, whatever somebody typed; figures of ours stay figures', () => {
    // Beginnings by OWASP, "CSV Injection"; the last two are their full-width forms.
    const bad = [
      '=1+1',
      '+1',
      '-1',
      '@SUM(A1)',
      '\t=1',
      '\r=1',
      '  =1',
      '＝1',
      '＠x',
      '=HYPERLINK("http://example.org","x")',
    ];
    const text = csvText(
      ['what', 'amount'],
      bad.map((word) => [{ text: word }, { number: '-12.50' }]),
    );
    expect(text.charCodeAt(0)).toBe(0xfeff);
    const { data } = Papa.parse<string[]>(text.slice(1).trim());
    for (const [i, [word, amount]] of data.slice(1).entries()) {
      expect(word).toBe(`'${bad[i]}`);
      expect(amount).toBe('-12.50');
    }
    expect(data.length).toBe(bad.length + 1);
  });

  it('OG11: quotes, commas and line ends in a text come back as they went', () => {
    const words = ['a "b" c', 'one, two', 'line\nend', 'Zoë'];
    const { data } = Papa.parse<string[]>(
      csvText(['a', 'b', 'c', 'd'], [words.map((text) => ({ text }))])
        .slice(1)
        .trim(),
    );
    expect(data[1]).toEqual(words);
  });
});

describe('the clients’ page', () => {
  const view: ClientsView = {
    meeting: 'Race <day>',
    asOf: wallAt('10:10'),
    cardsUntil: wallAt('09:40'),
    initials: 'RQ',
    spots: [{ id: 'beacon' as never, name: 'Beacon' }],
    clients: [
      {
        event: '',
        class: 'Superstock',
        number: '46',
        name: '<script>alert(1)</script>',
        wants: '12 pictures from 3 spots',
        booked: { pictures: 12, spots: 3 },
        good: 2,
        frames: 3,
        spots: ['beacon' as never],
        owed: { pictures: 10, spots: 2 },
        isWanted: true,
        doubts: [],
        sessions: [
          {
            name: 'S1',
            group: 'S',
            start: wallAt('09:00'),
            end: wallAt('09:20'),
            when: 'over',
            cards: {
              kind: 'seen',
              by: { kind: 'read', confidence: 0.93 },
              good: 2,
              frames: 3,
              from: [{ spot: 'beacon' as never, good: 2, frames: 3 }],
            },
            got: [{ at: wallAt('09:05'), spot: null, cards: 'shown' }],
          },
          {
            name: 'S2',
            group: 'S',
            start: wallAt('10:00'),
            end: wallAt('10:20'),
            when: 'now',
            cards: { kind: 'not-seen', why: 'no-card-yet' },
            got: [],
          },
        ],
      },
    ],
  };

  it('OG18: fetches nothing, runs nothing, and escapes what was typed', async () => {
    const page = await clientsPage(view);
    expect(page).not.toMatch(/<script|<link|<img|src=|url\(|@import/i);
    expect(page).toContain('&lt;script&gt;');
    const style = /<style>([^<]*)<\/style>/.exec(page)![1]!;
    const hash = createHash('sha256').update(style).digest('base64');
    expect(page).toContain(`default-src 'none'; style-src 'sha256-${hash}'`);
  });

  it('OG18: draws what was read as a guess, a tap with initials, and says what is not known', async () => {
    const page = await clientsPage(view);
    expect(page).toContain('<em class="pencilled">2 good pictures: Beacon 2; number read, 93 of 100</em>');
    expect(page).toContain('<b class="word">Got it <span class="box">RQ</span></b> 09:05, and the cards show it');
    expect(page).toContain('<span class="absent">no card of it yet</span>');
    expect(page).toContain('2 good pictures from 1 spot; still owed: 10 pictures and 2 spots.');
    expect(page).toContain('1 on track now and not seen in this session.');
  });
});
