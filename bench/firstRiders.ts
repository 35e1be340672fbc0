/**
 * How long after a card goes in the first riders are on the screen: 3,500 files of 8 MB read at 90 MB/s, copied to two
 * places and measured meanwhile. Pictures are those of the invented meeting, with previews of 1616 × 1080 as cameras keep
 * them; behind each file's own bytes lies emptiness up to 8 MB, which costs the copying what a picture would.
 */
import { mkdir, mkdtemp, open, rm, truncate, utimes } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { readTruth } from '../demo/day/truth.js';
import { withExifAndPreview } from '../demo/exif.js';
import { recordedPicture } from '../demo/recordedPicture.js';
import { bringIn, readFills } from '../src/host/bringin/index.js';
import { openDay } from '../src/host/day/index.js';
import { createMeeting, openMeeting } from '../src/host/meeting/index.js';
import type { Figures } from '../tools/figures.js';

const FILES = 3500;
const FILE_BYTES = 8_000_000;
const CARD_BYTES_PER_SECOND = 90_000_000;
const FRAMES_A_BURST = 3;
const BURST_EVERY_S = 9;
const FIRST_FRAME = Date.UTC(2031, 8, 20, 9, 0, 0);
const PICTURES = 48;
const LONGEST_MS = 180_000;

export async function benchFirstRiders(): Promise<Figures> {
  const root = await mkdtemp(join(tmpdir(), 'tyrewall-first-riders-'));
  try {
    const card = await layCard(join(root, 'card'));
    const firstRidersMs = await timeToFirstRiders(root, card);
    return {
      'bringin.firstRidersS': {
        value: firstRidersMs / 1000,
        unit: 's',
        better: 'lower',
        note: `${FILES} × ${FILE_BYTES / 1e6} MB at ${CARD_BYTES_PER_SECOND / 1e6} MB/s, two copies on one disk; previews measured, main images not decoded`,
      },
    };
  } finally {
    await rm(root, { recursive: true, force: true });
  }
}

/** Stops the copying once the first riders stand in the arrangement. */
async function timeToFirstRiders(root: string, card: string): Promise<number> {
  const [first, second] = [join(root, 'one'), join(root, 'two')];
  await createMeeting(first, {
    name: 'Bench',
    firstDay: '2031-09-20',
    lastDay: '2031-09-20',
    zone: 'Europe/London',
    spots: [],
  });
  await mkdir(join(second, 'cards'), { recursive: true });
  const meeting = await openMeeting(first, { readFills, stateRoot: join(root, 'state') });
  const day = await openDay(meeting, {
    otherDisks: [second],
    bringIn: (options) => bringIn({ ...options, readLimitBytesPerSecond: CARD_BYTES_PER_SECOND }),
  });
  const started = performance.now();
  try {
    return await new Promise<number>((resolve, reject) => {
      const timer = setTimeout(
        () => reject(new Error(`no rider was arranged within ${LONGEST_MS / 1000} s`)),
        LONGEST_MS,
      );
      day.subscribe(() => {
        if (day.state().arrangement.riders.length === 0) return;
        clearTimeout(timer);
        resolve(performance.now() - started);
      });
      day.bringIn([card]).catch(reject);
    });
  } finally {
    await day.close();
    await meeting.close();
  }
}

async function layCard(card: string): Promise<string> {
  const pictures = await previewed();
  for (let i = 0; i < FILES; i++) {
    const folder = join(card, 'DCIM', `${100 + Math.floor(i / 1000)}BENCH`);
    if (i % 1000 === 0) await mkdir(folder, { recursive: true });
    const path = join(folder, `BNCH${String(i + 1).padStart(4, '0')}.JPG`);
    const takenMs = FIRST_FRAME + Math.floor(i / FRAMES_A_BURST) * BURST_EVERY_S * 1000 + (i % FRAMES_A_BURST) * 150;
    const picture = pictures[Math.floor(i / FRAMES_A_BURST) % pictures.length]!;
    const file = await open(path, 'w');
    await file.writeFile(withExifAndPreview(picture.main, picture.preview, wordsAt(takenMs)));
    await file.close();
    await truncate(path, FILE_BYTES);
    await utimes(path, takenMs / 1000, takenMs / 1000);
  }
  return card;
}

async function previewed(): Promise<readonly { main: Buffer; preview: Buffer }[]> {
  const truth = await readTruth();
  const bikes = truth.frames.filter((frame) => frame.role === 'bike' && frame.picture !== undefined).slice(0, PICTURES);
  return Promise.all(
    bikes.map(async (frame) => {
      const main = await recordedPicture(frame);
      return { main, preview: await sharp(main).resize(1616, 1080).jpeg({ quality: 85 }).toBuffer() };
    }),
  );
}

function wordsAt(takenMs: number) {
  const iso = new Date(takenMs).toISOString();
  return {
    make: 'Halvard Optical',
    model: 'HX-7',
    serial: '70031044',
    lens: 'HX 150-600mm F5-6.3',
    offset: null,
    time: `${iso.slice(0, 10).replaceAll('-', ':')} ${iso.slice(11, 19)}`,
    subSec: iso.slice(20, 22),
    shutterS: 1 / 250,
    fNumber: 8,
    iso: 160,
    focalLengthMm: 300,
    orientation: 1,
    widthPx: 600,
    heightPx: 400,
  };
}
