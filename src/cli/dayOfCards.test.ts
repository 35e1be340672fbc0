import { mkdir, mkdtemp, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cameraJpeg, HALVARD } from '../../test/fixtures/metadata/cameraFiles.js';
import { texturedJpeg } from '../../test/fixtures/metadata/pictures.js';
import { daysOfCards, saidDays } from './dayOfCards.js';

let root = '';
const put = async (name: string, bytes: Uint8Array, written: string): Promise<void> => {
  const path = join(root, name);
  await mkdir(dirname(path), { recursive: true });
  await writeFile(path, bytes);
  await utimes(path, new Date(written), new Date(written));
};
const picture = async (taken: string): Promise<Uint8Array> =>
  cameraJpeg(await texturedJpeg(64, 48), { ...HALVARD, time: taken });

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-day-'));
});
afterEach(() => rm(root, { recursive: true, force: true }));

describe('the day that cards belong to', () => {
  it('is what the camera wrote, not when a copy was made, and says which picture told it', async () => {
    await put('a/DCIM/100TESTA/TEST0001.JPG', await picture('2031:05:16 09:00:00'), '2031-06-01T12:00:00Z');
    await put('b/DCIM/100TESTB/TEST0002.JPG', await picture('2031:05:17 09:00:00'), '2031-06-02T12:00:00Z');
    const guessed = 'Day 2031-05-17: guessed from the capture time in TEST0002.JPG.';
    expect(await daysOfCards([join(root, 'b')])).toEqual({
      firstDay: '2031-05-17',
      lastDay: '2031-05-17',
      sentence: `${guessed} Say --day YYYY-MM-DD if it is another.`,
    });
    expect(await daysOfCards([join(root, 'a'), join(root, 'b')])).toEqual({
      firstDay: '2031-05-16',
      lastDay: '2031-05-17',
      sentence:
        'Days 2031-05-16 to 2031-05-17: guessed from the capture times in TEST0001.JPG and TEST0002.JPG. Say --day 2031-05-17 if the meeting was that day alone.',
    });
  });

  it('BI81: leaves out what lies further back, says it, and how to say otherwise', async () => {
    await put('a/TEST0001.JPG', await picture('2031:05:10 09:00:00'), '2031-05-10T12:00:00Z');
    await put('a/TEST0002.JPG', await picture('2031:05:17 09:00:00'), '2031-05-17T12:00:00Z');
    const { firstDay, sentence } = await daysOfCards([join(root, 'a')]);
    expect(firstDay).toBe('2031-05-17');
    expect(sentence).toContain(
      'Pictures of 2031-05-10 are on the cards too and come in with the rest. Say --day 2031-05-10 if the meeting was then, or --day 2031-05-10..2031-05-17 if it lasted all these days.',
    );
  });

  it('BI81: are all days on one card, also where a copy made all files on one day', async () => {
    for (const day of ['14', '15', '16'])
      await put(`card/TEST00${day}.JPG`, await picture(`2031:05:${day} 09:00:00`), `2031-05-${day}T12:00:00Z`);
    const days = { firstDay: '2031-05-14', lastDay: '2031-05-16' };
    expect(await daysOfCards([join(root, 'card')])).toMatchObject(days);
    for (const day of ['14', '15', '16'])
      await put(`copy/TEST00${day}.JPG`, await picture(`2031:05:${day} 09:00:00`), '2031-06-01T12:00:00Z');
    expect(await daysOfCards([join(root, 'copy')])).toMatchObject(days);
  });

  it('asks the next picture where the newest is damaged or has an impossible date', async () => {
    await put('a/DCIM/100TESTA/TEST0001.JPG', await picture('2031:05:16 09:00:00'), '2031-06-01T12:00:00Z');
    await put('a/DCIM/100TESTA/TEST0002.JPG', await picture('2031:13:41 09:00:00'), '2031-06-01T12:00:01Z');
    await put('a/DCIM/100TESTA/TEST0003.JPG', Buffer.from('not a picture'), '2031-06-01T12:00:02Z');
    expect((await daysOfCards([join(root, 'a')])).firstDay).toBe('2031-05-16');
  });

  it('without any capture time it is the newest file’s own date, and that is said', async () => {
    await put('a/DCIM/100TESTA/MVI_0001.MP4', Buffer.from('a clip'), '2031-06-01T12:00:00Z');
    const { firstDay, sentence } = await daysOfCards([join(root, 'a')]);
    expect(firstDay).toBe('2031-06-01');
    expect(sentence).toContain('when MVI_0001.MP4 was last written, for no picture tells its capture time');
  });

  it('can be said, or the first and the last, and only as days that exist', () => {
    expect(saidDays('2031-05-17')).toEqual({ firstDay: '2031-05-17', lastDay: '2031-05-17', sentence: null });
    expect(saidDays('2031-05-17/2031-05-18')).toMatchObject({ firstDay: '2031-05-17', lastDay: '2031-05-18' });
    for (const text of ['2031-05-17..18', '2031-05-17/18', '2031-05-17..2031-05-18'])
      expect(saidDays(text)).toMatchObject({ firstDay: '2031-05-17', lastDay: '2031-05-18' });
    for (const text of [
      '17.5.2031',
      '2031-05-17..',
      '2031-05-17..9',
      '..18',
      '2031-02-30',
      '2031-5-7',
      '2031-05-18/2031-05-17',
      '2031-05-17/2031-05-18/x',
    ])
      expect(() => saidDays(text)).toThrow(/Expected a day like 2031-05-17/);
  });
});
