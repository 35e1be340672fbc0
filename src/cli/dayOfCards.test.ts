import { mkdir, mkdtemp, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cameraJpeg, HALVARD } from '../../test/fixtures/metadata/cameraFiles.js';
import { texturedJpeg } from '../../test/fixtures/metadata/pictures.js';
import { dayOfCards, saidDay } from './dayOfCards.js';

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
    const { day, sentence } = await dayOfCards([join(root, 'a'), join(root, 'b')]);
    expect(day).toBe('2031-05-17');
    expect(sentence).toBe(
      'Day 2031-05-17: guessed from the capture time in TEST0002.JPG. Say --day YYYY-MM-DD if it is another.',
    );
  });

  it('asks the next picture where the newest is damaged or has an impossible date', async () => {
    await put('a/DCIM/100TESTA/TEST0001.JPG', await picture('2031:05:16 09:00:00'), '2031-06-01T12:00:00Z');
    await put('a/DCIM/100TESTA/TEST0002.JPG', await picture('2031:13:41 09:00:00'), '2031-06-01T12:00:01Z');
    await put('a/DCIM/100TESTA/TEST0003.JPG', Buffer.from('not a picture'), '2031-06-01T12:00:02Z');
    expect((await dayOfCards([join(root, 'a')])).day).toBe('2031-05-16');
  });

  it('without any capture time it is the newest file’s own date, and that is said', async () => {
    await put('a/DCIM/100TESTA/MVI_0001.MP4', Buffer.from('a clip'), '2031-06-01T12:00:00Z');
    const { day, sentence } = await dayOfCards([join(root, 'a')]);
    expect(day).toBe('2031-06-01');
    expect(sentence).toContain('when MVI_0001.MP4 was last written, for no picture tells its capture time');
  });

  it('can be said, and only as a day that exists', () => {
    expect(saidDay('2031-05-17')).toEqual({ day: '2031-05-17', sentence: null });
    for (const text of ['17.5.2031', '2031-02-30', '2031-5-7'])
      expect(() => saidDay(text)).toThrow(/Expected a day like 2031-05-17/);
  });
});
