import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keptFrame } from '../../../demo/frames.js';
import { photographCard, toJpeg } from '../../../test/builders/cardScene.js';
import { cardScenes } from '../../../test/builders/cardScenes.js';
import { cameraJpeg } from '../../../test/fixtures/metadata/cameraFiles.js';
import type { FileId } from '../../core/ids.js';
import { clockCardText, mayHoldCode, numberCardText, qrPath } from '../../core/measure/cards/index.js';
import type { FileMetadata, FrameMeasured } from '../../core/measure/index.js';
import { seededRandom } from '../../core/numeric/random.js';
import { epochMsOf } from '../../core/units.js';
import { createMeasurePool } from '../measure/index.js';
import type { MeasurePool } from '../measure/types.js';
import { readQr } from './readQr.js';

const CLOCK = clockCardText({ shownAt: epochMsOf(Date.UTC(2026, 8, 19, 13, 15, 48)), body: 2, next: 'N6' });
const NUMBER = numberCardText({ number: 17, token: 'ABCDEFGHIJKLMNOPQRSTUVWXYZ' });

describe('cards in photographs', () => {
  it('PL726: a clock card is read from a tenth to half of the frame’s width, tilted, out of focus, with glare, as JPEG', async () => {
    const random = seededRandom(7).next;
    const missed: string[] = [];
    const scenes = cardScenes(CLOCK);
    for (const scene of scenes) {
      const codes = await readQr(await photographCard(scene, random));
      if (!codes.some(({ text }) => text === CLOCK)) missed.push(JSON.stringify(scene));
    }
    expect(scenes.length).toBeGreaterThanOrEqual(30);
    expect(missed).toEqual([]);
  });

  it('PL727: the quick look passes every number card that can be read', async () => {
    const random = seededRandom(8).next;
    const scenes = cardScenes(NUMBER).filter((_, index) => index % 2 === 0);
    for (const scene of scenes)
      expect([scene, mayHoldCode(await photographCard(scene, random))]).toEqual([scene, true]);
  });
});

describe('cards through the measurer', () => {
  let folder: string;
  let pool: MeasurePool;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-cards-'));
    pool = createMeasurePool({ workers: 1, pictureFolder: join(folder, 'pictures'), timeLimitMs: 60_000 });
  });
  afterAll(async () => {
    await pool.close();
    await rm(folder, { recursive: true, force: true });
  });

  const measure = async (name: string, jpeg: Uint8Array): Promise<FrameMeasured> => {
    const path = join(folder, name);
    await writeFile(path, jpeg);
    const header = await pool.measure({ kind: 'metadata', path, fileId: name as FileId });
    const { metadata } = header as { metadata: FileMetadata };
    const answer = await pool.measure({ kind: 'pixels', path, metadata, tier: 'preview' });
    return (answer as { pixels: FrameMeasured }).pixels;
  };

  it('PL721: a photographed clock card is measured with its time and place, and the frame is a divider', async () => {
    const [scene] = cardScenes(CLOCK);
    const picture = await photographCard({ ...scene!, width: 0.3 }, seededRandom(9).next);
    const { cards, dividerScore } = await measure('CLOCK.JPG', cameraJpeg(await toJpeg(picture, 88)));
    expect(dividerScore).toBe(1);
    expect(cards).toMatchObject([
      { kind: 'clock-card', body: 2, next: 'N6', shownAt: Date.UTC(2026, 8, 19, 13, 15, 48) },
    ]);
    expect(cards![0]!.at.x).toBeGreaterThan(0.1);
  });

  it('PL727: a number card held up beside a bike is read, and the bike with it', async () => {
    const { path, size } = qrPath(NUMBER, 'Q')!;
    const card = `<svg xmlns="http://www.w3.org/2000/svg" width="240" height="240" viewBox="0 0 ${size} ${size}"><rect width="100%" height="100%" fill="#e9e9e4"/><path d="${path}" fill="#222"/></svg>`;
    const frame = sharp(await keptFrame('morning-a/hx7_0040.avif'))
      .rotate()
      .resize(1200);
    const { subjects, cards, dividerScore } = await measure(
      'CARD.JPG',
      cameraJpeg(
        await frame
          .composite([{ input: Buffer.from(card), left: 20, top: 20 }])
          .jpeg({ quality: 88 })
          .toBuffer(),
      ),
    );
    expect(subjects.some(({ what }) => what === 'motorcycle')).toBe(true);
    expect(cards).toMatchObject([{ kind: 'number-card', number: 17 }]);
    expect(dividerScore).toBeLessThan(0.5);
  });
});
