import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { itWith } from '../../bringin/testing/oracles.js';
import { readQr } from '../../cards/readQr.js';
import { CARDS, findCardsPdf, placeOnSheet, riderSlipsPdf, SLIPS } from './findCards.js';

const folder = mkdtempSync(join(tmpdir(), 'find-cards-'));
afterAll(() => rmSync(folder, { recursive: true }));

const WORDS = { title: 'Ebbstone & friends', day: 'Saturday 19 September 2026', credit: 'R. Quill' };
const ADDRESS = 'https://pictures.example/ebbstone-2026/';
const MADE_AT = new Date(Date.UTC(2026, 8, 19, 18));
const DPI = 120;
const px = (mm: number): number => Math.floor((mm / 25.4) * DPI);
const run = (program: string, args: readonly string[]): string => execFileSync(program, args, { encoding: 'utf8' });

/** What a reader finds on each place of each page. */
async function codesOn(pdf: Uint8Array, name: string, kind: typeof CARDS | typeof SLIPS, count: number) {
  const file = join(folder, `${name}.pdf`);
  writeFileSync(file, pdf);
  run('pdftoppm', ['-r', String(DPI), '-png', file, join(folder, name)]);
  const perPage = kind.across * kind.down;
  const codes: string[][] = [];
  for (let n = 0; n < count; n++) {
    const { left, top, width, height } = placeOnSheet(n % perPage, kind);
    const area = { left: px(left), top: px(top), width: px(width), height: px(height) };
    const { data, info } = await sharp(join(folder, `${name}-${Math.floor(n / perPage) + 1}.png`))
      .extract(area)
      .removeAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    codes.push((await readQr({ data, width: info.width, height: info.height })).map(({ text }) => text));
  }
  return codes;
}

describe('paper that leads to the gallery', () => {
  itWith('pdftoppm', 'FN20: each of four cards is read back as the gallery’s address', async () => {
    const { pdf, pages } = await findCardsPdf(ADDRESS, WORDS, MADE_AT);
    expect(pages).toBe(1);
    expect(await codesOn(pdf, 'cards', CARDS, 4)).toEqual(Array.from({ length: 4 }, () => [ADDRESS]));
  });

  itWith(
    'pdftoppm',
    'FN21: each slip is read back as its own rider’s private address, over as many pages as needed',
    async () => {
      const slips = Array.from({ length: 9 }, (_, i) => ({
        address: `${ADDRESS}mine/${String(i).repeat(32)}.html`,
        livery: 'multicoloured (fluorescent yellow / purple), white leathers, fluorescent orange helmet',
        pictures: i + 1,
      }));
      const { pdf, pages } = await riderSlipsPdf(slips, WORDS, MADE_AT);
      expect(pages).toBe(2);
      expect(await codesOn(pdf, 'slips', SLIPS, 9)).toEqual(slips.map(({ address }) => [address]));
    },
  );

  itWith('pdftotext', 'FN20: beside a code stands in letters what it says, and whose pictures they are', async () => {
    const file = join(folder, 'text.pdf');
    writeFileSync(file, (await findCardsPdf(ADDRESS, WORDS, MADE_AT)).pdf);
    const text = run('pdftotext', ['-layout', file, '-']).replace(/\s+/g, ' ');
    for (const said of ['Find your pictures', 'pictures.example/ebbstone-2026', 'R. Quill', 'Ebbstone & friends'])
      expect(text.split(said).length - 1, said).toBe(4);
  });

  it('FN20: an address too long for a code is refused in a sentence', async () => {
    await expect(findCardsPdf(`https://x.example/${'a'.repeat(3000)}`, WORDS, MADE_AT)).rejects.toThrow(
      /got one of 3018 letters. Use a shorter one/,
    );
  });
});
