import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { openVision } from '../../src/host/vision/index.js';
import { judgeNumber, numbersAccuracy } from './numbers.js';

it('a number is right where it is one of those listed, wrong where it is not, unread below the working confidence', () => {
  expect(judgeNumber({ text: '46', confidence: 0.9 }, ['99', '46'])).toBe('right');
  expect(judgeNumber({ text: '4', confidence: 0.9 }, ['99', '46'])).toBe('wrong');
  expect(judgeNumber({ text: '46', confidence: 0.9 }, [])).toBe('wrong');
  expect(judgeNumber({ text: '46', confidence: 0.1 }, ['46'])).toBe('unread');
  expect(judgeNumber(null, ['46'])).toBe('unread');
});

it('numbers are counted by kind; a picture that is not listed has none to read', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-numbers-'));
  const race = join(folder, 'race-photos');
  mkdirSync(race);
  const grey = await sharp({ create: { width: 96, height: 64, channels: 3, background: '#6e6e70' } })
    .jpeg()
    .toBuffer();
  for (const name of ['a.jpg', 'b.jpg', 'c.jpg']) writeFileSync(join(race, name), grey);
  const lines = ['file\tkind\tnumbers', 'a.jpg\tsingle\t7', 'b.jpg\tmulti\t7|8', 'gone.jpg\tsingle\t9'];
  writeFileSync(join(race, 'numbers.tsv'), `${lines.join('\n')}\n`);
  const vision = await openVision();
  try {
    const { rows, figures } = (await numbersAccuracy(vision, folder))!;
    expect(figures['photos.numbersSingleShare']).toMatchObject({ value: 0, unit: 'of 1 photos', better: 'higher' });
    expect(figures['photos.numbersMultiShare']).toMatchObject({ value: 0, unit: 'of 1 photos' });
    expect(figures['photos.numbersWrong']).toMatchObject({ value: 0, unit: 'of 3 photos', better: 'lower' });
    expect(figures['numbers.ms']).toBeUndefined();
    expect(rows.join('\n')).toMatch(/numbers\.tsv, line 4: expected gone\.jpg beside it, but there is no such file/);
    expect(rows.join('\n')).toMatch(/unread: a\.jpg 7 → nothing/);
    expect(await numbersAccuracy(vision, join(folder, 'nowhere'))).toBeNull();
  } finally {
    await vision.close();
    rmSync(folder, { recursive: true });
  }
});
