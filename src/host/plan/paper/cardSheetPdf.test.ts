import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, describe, expect } from 'vitest';
import { CARD_MM, layCardSheets, readNumberCard } from '../../../core/measure/cards/index.js';
import { itWith } from '../../bringin/testing/oracles.js';
import { numberCardToken } from '../../cards/index.js';
import { readQr } from '../../cards/readQr.js';
import { cardSheetPdf } from './cardSheetPdf.js';

const folder = mkdtempSync(join(tmpdir(), 'cards-'));
afterAll(() => rmSync(folder, { recursive: true }));

const SECRET = '5c'.repeat(32);
const cards = Array.from({ length: 11 }, (_, i) => ({ number: i + 30, token: numberCardToken(SECRET, i + 30) }));
const SHEET = { cards, galleryAddress: 'https://gallery.example/ebbstone/' };
const DPI = 100;
const px = (mm: number): number => Math.round((mm / 25.4) * DPI);

const run = (program: string, args: readonly string[]): string => execFileSync(program, args, { encoding: 'utf8' });

async function onPaper(): Promise<string> {
  const { pdf, pages } = await cardSheetPdf(SHEET, 'Ebbstone & friends', new Date(Date.UTC(2031, 4, 16, 20)));
  expect(pages).toBe(2);
  const file = join(folder, 'cards.pdf');
  writeFileSync(file, pdf);
  return file;
}

describe('number cards on paper', () => {
  itWith('pdftoppm', 'PL724: each card printed is read back as itself, on its own place of the sheet', async () => {
    const file = await onPaper();
    run('pdftoppm', ['-r', String(DPI), '-png', file, join(folder, 'page')]);
    for (const [page, laid] of layCardSheets(SHEET).entries())
      for (const { left, top, number } of laid) {
        const area = { left: px(left), top: px(top), width: px(CARD_MM.width), height: px(CARD_MM.height) };
        const { data, info } = await sharp(join(folder, `page-${page + 1}.png`))
          .extract(area)
          .removeAlpha()
          .raw()
          .toBuffer({ resolveWithObject: true });
        const codes = await readQr({ data, width: info.width, height: info.height });
        expect(codes.length).toBe(1);
        expect(codes[0]!.text.startsWith('https://gallery.example/ebbstone/#')).toBe(true);
        expect(readNumberCard(codes[0]!.text)).toMatchObject({ number, token: numberCardToken(SECRET, number) });
      }
  });

  itWith('pdftotext', 'PL724: beside the code stand the number, what to do with it, and the meeting', async () => {
    const text = run('pdftotext', ['-layout', await onPaper(), '-']);
    for (const { number } of cards) expect(text).toMatch(new RegExp(`\\b${number}\\b`));
    const words = text.replace(/\s+/g, ' ');
    for (const said of ['Hold this', 'Then find', 'Ebbstone']) expect(words.split(said).length - 1).toBe(cards.length);
  });
});
