import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { intersectionOverUnion } from './clips.js';
import { coloursIn, judgeColour, readLabels } from './labels.js';
import { photosAccuracy } from './photos.js';
import { rankOne } from './sameBike.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tyrewall-photos-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const plainPicture = (red: number, green: number, blue: number) =>
  sharp({ create: { width: 96, height: 64, channels: 3, background: { r: red, g: green, b: blue } } })
    .jpeg()
    .toBuffer();

describe('labels', () => {
  it('are read by the names of their columns, in any order, with cells left out', () => {
    writeFileSync(join(folder, 'labels.tsv'), 'bikes\tfile\tmain_colour\r\n2\ta.jpg\t\r\nmany\tb.jpg\tred\r\n');
    expect(readLabels(folder)).toEqual([
      { bikes: '2', file: 'a.jpg', main_colour: '' },
      { bikes: 'many', file: 'b.jpg', main_colour: 'red' },
    ]);
    expect(readLabels(join(folder, 'nowhere'))).toBeNull();
  });

  it('take either colour of a pair, and synonyms', () => {
    expect(coloursIn('silver/grey')).toEqual(['silver', 'grey']);
    expect(coloursIn('Black+Blue')).toEqual(['black', 'blue']);
    expect(coloursIn('gold')).toEqual(['yellow']);
    expect(coloursIn('plaid')).toEqual([]);
  });

  it('judge right, neighbour and wrong; a bike not found is wrong', () => {
    expect(judgeColour('grey', ['silver', 'grey'])).toBe('right');
    expect(judgeColour('navy', ['blue'])).toBe('neighbour');
    expect(judgeColour('white', ['black'])).toBe('wrong');
    expect(judgeColour(null, ['black'])).toBe('wrong');
  });
});

describe('the figures', () => {
  it('are left out, every one, where the folders are absent', async () => {
    const { rows, figures } = await photosAccuracy(folder);
    expect(figures).toEqual({});
    expect(rows).toEqual([`No labelled pictures at ${folder}: nothing was measured.`]);
  });

  it('count what is there: a bikeless picture labelled with a bike is missed, a broken file is named and not counted', async () => {
    const race = join(folder, 'race-photos');
    mkdirSync(race);
    writeFileSync(join(race, 'grey.jpg'), await plainPicture(110, 110, 112));
    writeFileSync(join(race, 'broken.jpg'), 'not a picture');
    writeFileSync(join(race, 'labels.tsv'), 'main_colour\tbikes\tfile\nred\t1\tgrey.jpg\nred\t1\tbroken.jpg\n');
    const sky = join(folder, 'dividers', 'sky');
    mkdirSync(sky, { recursive: true });
    writeFileSync(join(sky, 'one.jpg'), await plainPicture(140, 180, 230));
    const { rows, figures } = await photosAccuracy(folder);
    expect(Object.keys(figures).sort()).toEqual(['dividers.falseBike', 'photos.bikeFound']);
    expect(figures['photos.bikeFound']).toMatchObject({ value: 0, unit: 'of 1 photos', better: 'higher' });
    expect(figures['dividers.falseBike']).toMatchObject({ value: 0, unit: 'of 1 photos', better: 'lower' });
    expect(rows.some((row) => row.includes('broken.jpg'))).toBe(true);
  });
});

describe('the measures', () => {
  it('give the overlap of a mask with the truth over the whole frame', () => {
    const truth = { width: 4, height: 2, inside: Uint8Array.of(0, 1, 1, 1, 0, 0, 0, 0) };
    const picture = { width: 2, height: 1, data: new Uint8Array(6) };
    const mask = { picture, rect: { left: 0, top: 0, right: 2, bottom: 1 }, inside: Float32Array.of(0.9, 0.9) };
    // Claimed: columns 0 and 1 of the first row; true: columns 1 to 3.
    expect(intersectionOverUnion(mask, truth)).toBeCloseTo(1 / 4, 12);
    expect(intersectionOverUnion(null, truth)).toBe(0);
  });

  it('count a tie as a miss in the nearest-bike rank', () => {
    const [a, b] = [Float32Array.of(1, 0), Float32Array.of(0, 1)];
    expect(rankOne([a, b], [a, b])).toBe(1);
    expect(rankOne([a, b], [a, a])).toBe(0);
  });
});
