import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { intersectionOverUnion } from './clips.js';
import { bikesIn, coloursIn, judgeColour, readLabels } from './labels.js';
import { photosAccuracy } from './photos.js';
import { rankOne, truePositivesAt } from './sameBike.js';
import { rankOneElsewhere } from './sameBikeRendered.js';

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
    for (const name of ['a.jpg', 'b.jpg']) writeFileSync(join(folder, name), '');
    writeFileSync(join(folder, 'labels.tsv'), '\uFEFFbikes\tfile\tmain_colour\r\n2\ta.jpg\t\r\nmany\tb.jpg\tred\r\n');
    expect(readLabels(folder)).toEqual({
      rows: [
        { bikes: '2', file: 'a.jpg', main_colour: '' },
        { bikes: 'many', file: 'b.jpg', main_colour: 'red' },
      ],
      troubles: [],
    });
    expect(readLabels(join(folder, 'nowhere'))).toBeNull();
  });

  it('that are not there, empty, or parted by commas are a sentence that says what was expected', () => {
    const path = join(folder, 'labels.tsv');
    const troubles = () => readLabels(folder)!.troubles.join();
    expect(troubles()).toBe(
      `Expected labels in ${path}, columns parted by tabs, one of them named "file", but there is no such file.`,
    );
    writeFileSync(path, '\n \n');
    expect(troubles()).toMatch(/but it is empty\.$/);
    writeFileSync(path, 'file,bikes\na.jpg,1\n');
    expect(troubles()).toMatch(/^Expected columns parted by tabs, .*labels\.tsv, but it is "file,bikes"\.$/);
  });

  it('of pictures that are missing, named twice or not named are told line by line, and the rest is used', () => {
    writeFileSync(join(folder, 'a.jpg'), '');
    writeFileSync(join(folder, 'labels.tsv'), 'file\tbikes\na.jpg\t1\n\ngone.jpg\t1\na.jpg\t2\n\t3\n../a.jpg');
    const { rows, troubles } = readLabels(folder)!;
    expect(rows).toEqual([{ file: 'a.jpg', bikes: '1' }]);
    expect(troubles.map((line) => line.slice(folder.length + 1))).toEqual([
      'labels.tsv, line 4: expected gone.jpg beside it, but there is no such file; the line is not counted.',
      'labels.tsv, line 5: expected each picture once, but a.jpg stands in line 2 already; the line is not counted.',
      'labels.tsv, line 6: expected a picture in the column "file", but the cell is empty; the line is not counted.',
      'labels.tsv, line 7: expected ../a.jpg beside it, but there is no such file; the line is not counted.',
    ]);
  });

  it('count bikes in whole numbers or as many', () => {
    expect(['2', '0', 'many', 'Many', '', 'two', '-1', '1.5'].map(bikesIn)).toEqual([
      2,
      0,
      'many',
      'many',
      null,
      null,
      null,
      null,
    ]);
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

describe('folders with something broken in them', () => {
  const put = (path: string, bytes: string | Uint8Array) => {
    mkdirSync(join(folder, path, '..'), { recursive: true });
    writeFileSync(join(folder, path), bytes);
  };

  it('give a sentence for everything that is not counted, and the figures of the rest', async () => {
    const grey = await plainPicture(110, 110, 112);
    put('race-photos/one.jpg', grey);
    put('race-photos/two.jpg', grey);
    put('race-photos/labels.tsv', 'file\tbikes\tmain_colour\none.jpg\t1\tplaid\ntwo.jpg\ttwo\t\nthree.jpg\t1\t\n');
    put('bike-colours/readme.txt', 'the labels were forgotten');
    put('dividers/sky/broken.jpg', 'not a picture');
    put('clips/lap/frames/1.jpg', grey);
    put('clips/lap/frames/2.jpg', 'not a picture');
    put('clips/lap/frames/3.jpg', grey);
    put('clips/lap/masks/1.png', await plainPicture(255, 255, 255));
    put('clips/lap/masks/2.png', grey);
    for (const bike of ['a', 'b', 'c']) {
      put(`reid-two-cameras/${bike}_cam1.jpg`, grey);
      put(`reid-two-cameras/${bike}_cam2.jpg`, bike === 'b' ? 'not a picture' : grey);
    }
    const { rows, figures } = await photosAccuracy(folder);
    const said = rows.map((row) => row.trim()).join('\n');
    expect(Object.keys(figures).sort()).toEqual([
      'clips.maskIoU',
      'photos.bikeFound',
      'reid.ms',
      'reid.rank1',
      'reid.truePositiveAt1PercentFalse',
    ]);
    expect(figures['photos.bikeFound']).toMatchObject({ unit: 'of 1 photos' });
    for (const sentence of [
      /line 4: expected three\.jpg beside it, but there is no such file/,
      /two\.jpg: expected a whole number or "many" in "bikes", but it is "two"; that is not counted\./,
      /one\.jpg: expected a colour of the program .* but it is "plaid"/,
      /Expected labels in .*bike-colours.labels\.tsv, .* but there is no such file\./,
      /not counted, unreadable: sky.broken\.jpg/,
      /not counted: expected pictures in frames\/2\.jpg and masks\/2\.png, but one cannot be read/,
      /not counted: expected the mask masks\/3\.png for frames\/3\.jpg, but there is no such file/,
      /clip lap: mean mask IoU .* over 1 frames/,
      /two cameras: nearest is the same bike for .* of 2,/,
      /not counted: expected pictures in b_cam1\.jpg and b_cam2\.jpg, but b_cam2\.jpg cannot be read/,
    ])
      expect(said).toMatch(sentence);
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

  it('counts the true pairs above all but a share of the wrong ones', () => {
    const [a, b, c] = [Float32Array.of(1, 0), Float32Array.of(0, 1), Float32Array.of(0.6, 0.8)];
    expect(truePositivesAt(0, [a, b], [a, b])).toBe(1);
    // b against c is alike by 0.8, a against itself by 1, and b against a not at all.
    expect(truePositivesAt(0, [a, b], [a, a])).toBe(0);
    expect(truePositivesAt(0.2, [a, b, c], [a, b, a])).toBeCloseTo(2 / 3, 10);
  });

  it('asks frames of other sessions only, of riders who are there', () => {
    const at = (rider: string, session: string, x: number, y: number) => ({
      rider,
      session,
      vector: Float32Array.of(x, y),
    });
    const bikes = [at('A', '1', 1, 0), at('A', '1', 1, 0), at('A', '2', 0.8, 0.6), at('B', '2', 0, 1)];
    expect(rankOneElsewhere(bikes)).toEqual({ share: 1, of: 3 });
    expect(rankOneElsewhere([...bikes, at('C', '2', 1, 0)])).toEqual({ share: 1 / 3, of: 3 });
  });
});
