import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawDay, GALLERY_ABOUT, galleryDay } from '../../../../test/builders/galleryDay.js';
import { bringTogether, createMeeting } from '../../meeting/index.js';
import { FinishError, makeProofs } from '../index.js';
import { markPixels } from '../mark.js';
import { IN_WORDS, keepOwnMark, letGoOwnMark, ownMarkOf, readOwnMark, takeKeptMark } from './index.js';

let root: string;
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-own-mark-'));
});
afterAll(() => rm(root, { recursive: true }));

const { id: _, format: __, ...ABOUT } = GALLERY_ABOUT;
const svg = (width: number, height: number, inside: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">${inside}</svg>`;
/** Letters' worth of strokes and gaps that fill the given size. */
const logo = (width: number, height: number, opacity = 1) =>
  svg(
    width,
    height,
    Array.from({ length: 7 }, (_, i) => {
      const [x, y] = [((i % 3) * width) / 2.9, (Math.floor(i / 3) * height) / 2.9];
      return `<rect x="${x}" y="${y}" width="${width / 4}" height="${height / 4}" fill="#f4f4f0" opacity="${opacity}"/>`;
    }).join(''),
  );
const pngOf = (text: string): Promise<Buffer> => sharp(Buffer.from(text)).png().toBuffer();
const fileOf = async (name: string, content: Buffer | string): Promise<string> => {
  await writeFile(join(root, name), content);
  return join(root, name);
};

/** Children are started from TypeScript here, which takes a busy machine a while. */
describe('a photographer’s own mark', { timeout: 120_000 }, () => {
  it('FI15: is refused in a sentence where it is no picture, opaque, empty, too small, of another kind, or not there', async () => {
    const plate = '<rect width="400" height="200" fill="#fff"/>';
    const files: readonly (readonly [string, Buffer | string, string | RegExp])[] = [
      ['words.png', 'no picture', /unsupported image format/],
      ['torn.png', (await pngOf(logo(600, 200))).subarray(0, 300), /^.+$/],
      ['plate.png', await pngOf(svg(400, 200, plate)), 'nothing of it is transparent, so it would hide the bike'],
      ['plate.svg', svg(400, 200, plate), 'nothing of it is transparent, so it would hide the bike'],
      ['nothing.png', await pngOf(svg(400, 200, '')), 'nothing in it can be seen'],
      [
        'small.png',
        await pngOf(svg(900, 900, '<circle cx="450" cy="450" r="40" fill="#fff"/>')),
        'what can be seen of it is 80 × 80 pixels, and at least 300 along its longer side and 24 along the other make a mark',
      ],
      [
        'specks.svg',
        svg(900, 300, '<circle cx="10" cy="10" r="8" fill="#fff"/><circle cx="890" cy="290" r="8" fill="#fff"/>'),
        'it is specks far apart: less than half a hundredth of it can be seen, so most of a proof would stand free',
      ],
      [
        'photo.jpg',
        await sharp(Buffer.from(logo(600, 200)))
          .jpeg()
          .toBuffer(),
        'it is of another kind (jpeg)',
      ],
    ];
    for (const [name, content, why] of files) {
      const refusal = await readOwnMark(await fileOf(name, content)).then(
        () => new Error('taken'),
        (error: Error) => error,
      );
      expect(refusal, name).toBeInstanceOf(FinishError);
      const [, came] =
        /^Expected a PNG or SVG with transparency for your mark in .*, but (.*)\. Nothing was changed\.$/.exec(
          refusal.message,
        ) ?? [null, refusal.message];
      if (typeof why === 'string') expect(came, name).toBe(why);
      else expect(came, name).toMatch(why);
    }
    await expect(readOwnMark(join(root, 'gone.png'))).rejects.toThrow(/gone\.png, but there is no such file/);
    await expect(readOwnMark(root)).rejects.toThrow(/, but that is a folder\. Nothing was changed/);
  });

  it('FI15: is cut to what can be seen of it and made solid, an SVG drawn large enough for any proof', async () => {
    const faint = svg(
      1000,
      800,
      '<g transform="translate(200 300)"><path d="M0 0H600V40H0zM0 80H600V120H0z" fill="#fff" opacity=".3"/></g>',
    );
    const png = await readOwnMark(await fileOf('faint.png', await pngOf(faint)));
    expect(await sharp(png).metadata()).toMatchObject({ format: 'png', width: 600, height: 120, channels: 4 });
    expect((await sharp(png).stats()).channels[3]!.max).toBe(255);
    const margins = svg(600, 600, '<circle cx="300" cy="300" r="30"/>');
    expect((await sharp(await readOwnMark(await fileOf('margins.svg', margins))).metadata()).width).toBeGreaterThan(
      700,
    );
    const drawn = await readOwnMark(await fileOf('small.svg', logo(60, 30)));
    expect((await sharp(drawn).metadata()).width).toBeGreaterThan(1000);
  });

  it.each([
    ['wide', 900, 150],
    ['round', 600, 600],
    ['high', 300, 900],
  ])('FI15: %s, lies across the bike and leaves no quarter of the picture without it', async (name, width, height) => {
    const file = await fileOf(`${name}-made.png`, await readOwnMark(await fileOf(`${name}.svg`, logo(width, height))));
    for (const [wide, high] of [
      [1400, 933],
      [933, 1400],
    ] as const) {
      const data = Buffer.alloc(wide * high * 3, 90);
      const box = [0.1, 0.1, 0.3, 0.3] as const;
      await markPixels({ data, size: { widthPx: wide, heightPx: high } }, [box], { file });
      const markedShare = (left: number, top: number, across: number, down: number, least: number) => {
        let [marked, seen] = [0, 0];
        for (let y = Math.round(top * high); y < (top + down) * high; y += 2)
          for (let x = Math.round(left * wide); x < (left + across) * wide; x += 2, seen += 1)
            if (Math.abs(data[(Math.min(y, high - 1) * wide + Math.min(x, wide - 1)) * 3]! - 90) > least) marked += 1;
        return marked / seen;
      };
      expect(markedShare(...box, 60)).toBeGreaterThan(0.03);
      for (let left = 0; left <= 0.5; left += 0.1)
        for (let top = 0; top <= 0.5; top += 0.1)
          expect(markedShare(left, top, 0.5, 0.5, 12), `${wide}: ${left},${top}`).toBeGreaterThan(0.005);
    }
  });

  it('FI15: stays with the meeting and its copies, and the next meeting begins with it, until words are said again', async () => {
    const state = join(root, 'state');
    const [first, copy, next, last] = ['first', 'copy', 'next', 'last'].map((name) => join(root, name)) as [
      string,
      string,
      string,
      string,
    ];
    await createMeeting(first, ABOUT);
    const aboutOf = async (folder: string) => JSON.parse(await readFile(join(folder, 'meeting.json'), 'utf8'));
    const hash = await keepOwnMark(first, state, await readOwnMark(await fileOf('kept.svg', logo(600, 200))));
    await bringTogether(first, copy);
    await createMeeting(next, ABOUT);
    await takeKeptMark(next, state);
    for (const folder of [first, copy, next])
      expect(await ownMarkOf(folder, await aboutOf(folder))).toEqual({ picture: hash, path: join(folder, 'mark.png') });
    await letGoOwnMark(first, state);
    expect(await ownMarkOf(first, await aboutOf(first))).toBeNull();
    await createMeeting(last, ABOUT);
    await takeKeptMark(last, state);
    expect(await aboutOf(last)).not.toHaveProperty('markPicture');
    await expect(stat(join(last, 'mark.png'))).rejects.toThrow();
  });

  it('FI15: proofs are made again with it, once; where it is gone or another there is a sentence and no proof without', async () => {
    const day = galleryDay({ riders: 2 });
    const folder = join(root, 'proofs');
    await mkdir(folder);
    await writeFile(join(folder, 'meeting.json'), JSON.stringify(day.about));
    await drawDay(day, folder);
    const inWords = await makeProofs(day, { meetingFolder: folder });
    const png = await readOwnMark(await fileOf('used.svg', logo(600, 200)));
    const markPicture = await keepOwnMark(folder, join(root, 'state-two'), png);
    const marked = await makeProofs(day, { meetingFolder: folder, markPicture });
    expect(marked).toMatchObject({ made: inWords.made, removed: inWords.made, failed: [] });
    const state = { ...day, about: { ...day.about, markPicture } };
    expect(await makeProofs(state, { meetingFolder: folder })).toMatchObject({ made: 0, removed: 0 });
    await writeFile(join(folder, 'mark.png'), 'another');
    await expect(makeProofs(state, { meetingFolder: folder })).rejects.toThrow(
      /^Expected this meeting's own mark in .*mark\.png, but it is another picture\. Say tyrewall finish/,
    );
    await rm(join(folder, 'mark.png'));
    await expect(makeProofs(state, { meetingFolder: folder })).rejects.toThrow(/but it is not there/);
    const words = await makeProofs(state, { meetingFolder: folder, markPicture: IN_WORDS });
    expect([...words.proofs.values()].map(({ path }) => path)).toEqual(
      [...inWords.proofs.values()].map(({ path }) => path),
    );
  });
});
