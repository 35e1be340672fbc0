/**
 * The pocket page and its cards: bytes of the file with a day and eight pictures inside, how many photographed clock cards are
 * read, and how many codes are found where none is.
 */
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { framesOfCard } from '../../demo/frames.js';
import { clockCardText, mayHoldCode } from '../../src/core/measure/cards/index.js';
import type { RgbImage } from '../../src/core/measure/index.js';
import { seededRandom } from '../../src/core/numeric/random.js';
import { codeOfDay, fitDay, MOST_QR_LETTERS } from '../../src/core/plan/pocket/index.js';
import { epochMsOf } from '../../src/core/units.js';
import { readQr } from '../../src/host/cards/readQr.js';
import { pocketFile, zlibSqueezer } from '../../src/host/pocket/index.js';
import { buildPocketPage } from '../../test/builders/builtPocketPage.js';
import { photographCard } from '../../test/builders/cardScene.js';
import { cardScenes } from '../../test/builders/cardScenes.js';
import { typicalPocketDay } from '../../test/builders/pocketDay.js';
import type { PhotosAccuracy } from './part.js';

const CARD = 'morning-a';
const CROP = { width: 208, height: 148 };
const TRIES = 2;

export async function pocketAccuracy(dataFolder: string): Promise<PhotosAccuracy> {
  await buildPocketPage();
  const file = await fileBytes();
  const cards = await cardsRead();
  const empty = await codesWhereNoneIs(join(dataFolder, 'dividers'));
  return {
    rows: [...file.rows, ...cards.rows, ...empty.rows],
    figures: {
      'pocket.bytes': {
        value: file.bytes,
        unit: 'bytes',
        better: 'lower',
        note: 'one file, a day and eight pictures inside; at most 1,500,000',
      },
      'pocket.squeezedBytes': {
        value: file.squeezed,
        unit: 'bytes',
        better: 'lower',
        note: 'a typical day with eight riders; at most 400',
      },
      'cards.read': {
        value: cards.read / cards.shown,
        unit: 'share',
        better: 'higher',
        note: `of ${cards.shown} rendered`,
      },
      ...(empty.looked > 0 && {
        'cards.false': {
          value: empty.found,
          unit: 'frames',
          better: 'lower',
          note: `of ${empty.looked} without a code`,
        } as const,
      }),
    },
  };
}

async function fileBytes() {
  const frames = (await framesOfCard(CARD)).slice(0, 8 * 9).filter((_, at) => at % 9 === 0);
  const crops = await Promise.all(
    frames.map((frame) => sharp(frame).resize(CROP.width, CROP.height).jpeg({ quality: 70 }).toBuffer()),
  );
  const watch = typicalPocketDay.watch.map((one, at) => ({ ...one, crop: new Uint8Array(crops[at]!) }));
  const day = { ...typicalPocketDay, watch };
  const bytes = Buffer.byteLength(await pocketFile(day));
  const { squeezedBytes: squeezed } = await codeOfDay(typicalPocketDay, zlibSqueezer);
  const fitted = await fitDay(day, MOST_QR_LETTERS, zlibSqueezer);
  const kept =
    fitted.kind === 'fits'
      ? `${fitted.code.code.length} letters without ${fitted.leftOut.join(', ')}`
      : fitted.sentence;
  return {
    bytes,
    squeezed,
    rows: [`one file with a day inside: ${bytes} bytes`, `its day for a code: ${squeezed} bytes squeezed, ${kept}`],
  };
}

async function cardsRead() {
  const random = seededRandom(71);
  let [read, shown, ms] = [0, 0, 0];
  const missed: string[] = [];
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    const text = clockCardText({
      shownAt: epochMsOf(Date.UTC(2026, 8, 19, 13, attempt)),
      body: attempt + 1,
      next: 'N6',
    });
    for (const scene of cardScenes(text)) {
      const picture = await photographCard(scene, random.next);
      const started = performance.now();
      const isRead = (await readQr(picture)).some((code) => code.text === text);
      ms += performance.now() - started;
      shown += 1;
      if (isRead) read += 1;
      else
        missed.push(
          `${scene.width} wide, turned ${scene.turnedDeg}°, aslant ${scene.aslantDeg}°, blurred ${scene.blurPx} px`,
        );
    }
  }
  return {
    read,
    shown,
    rows: [
      `clock cards read: ${read} of ${shown}, ${(ms / shown).toFixed(1)} ms each`,
      ...missed.map((how) => `  missed: ${how}`),
    ],
  };
}

async function codesWhereNoneIs(folder: string) {
  const rows: string[] = [];
  let [found, looked] = [0, 0];
  const places: (readonly [string, readonly (string | Buffer)[]])[] = [
    [`demo/frames.br, ${CARD}`, await framesOfCard(CARD)],
  ];
  if (existsSync(folder)) places.push([folder, picturesIn(folder)]);
  else rows.push(`SKIPPED: ${folder} is not there, so no code was looked for in it.`);
  for (const [place, pictures] of places) {
    let [passed, lookMs, readMs] = [0, 0, 0];
    for (const one of pictures) {
      const picture = await decoded(one);
      const started = performance.now();
      if (mayHoldCode(picture)) passed += 1;
      const between = performance.now();
      if ((await readQr(picture)).length > 0) found += 1;
      lookMs += between - started;
      readMs += performance.now() - between;
      looked += 1;
    }
    const mean = (ms: number) => (ms / Math.max(1, pictures.length)).toFixed(1);
    rows.push(
      `${place}: ${pictures.length} frames without a code; the quick look passes ${passed}; ${mean(lookMs)} ms to look, ${mean(readMs)} ms to read`,
    );
  }
  return { found, looked, rows };
}

const picturesIn = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.jpe?g$/i.test(name))
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile());

async function decoded(from: string | Buffer): Promise<RgbImage> {
  const { data, info } = await sharp(from)
    .rotate()
    .resize(1024, 1024, { fit: 'inside' })
    .toColourspace('srgb')
    .flatten()
    .raw()
    .toBuffer({ resolveWithObject: true });
  if (info.channels === 3) return { data, width: info.width, height: info.height };
  const rgb = Uint8Array.from(
    { length: 3 * info.width * info.height },
    (_, at) => data[Math.floor(at / 3) * info.channels]!,
  );
  return { data: rgb, width: info.width, height: info.height };
}
