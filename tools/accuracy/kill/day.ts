/** The invented offer that is ordered from while the service is killed: many riders of one picture, and one with a large set. */
import { createCipheriv, createHash } from 'node:crypto';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { FinalMaker } from '../../../src/shop/handing/index.js';
import { MEETING, offerOfDay, pictureId, RIDER } from '../../../src/shop/testing/shopDay.js';
import { webhookHeads } from '../hostile/service.js';
import type { Asked } from './service.js';

export const RIDERS = 300;
const LARGE_SET = 3;
const BYTES = { small: 40_000, large: 4_000_000 } as const;
export const PRICES = { one: 1200, day: 4500 } as const;
export const DAY = offerOfDay.firstDay;
const WEBHOOK_KEY = Buffer.alloc(32, 7);
const FIRST_SMALL = 1000;

export const riderId = (n: number): string => pictureId(0xbbbb_0000 + n);
export const pictureOf = (n: number): string => pictureId(FIRST_SMALL + n);
/** Whose zip takes a while. */
export const LARGE_RIDER = RIDER;
const largePictures = Array.from({ length: LARGE_SET }, (_, n) => pictureId(n + 1));

export const offer = {
  ...offerOfDay,
  meeting: MEETING,
  pictures: [...largePictures, ...Array.from({ length: RIDERS }, (_, n) => pictureOf(n))].map((id) => ({
    id,
    day: DAY,
  })),
  riders: [
    ...Array.from({ length: RIDERS }, (_, n) => rider(riderId(n), [pictureOf(n)])),
    rider(LARGE_RIDER, largePictures),
  ],
};

function rider(publicId: string, pictures: readonly string[]) {
  return { publicId, livery: 'red bike, black leathers', pictures, isJoinedByGuess: false };
}

export const settings = {
  v: 1,
  secret: 'c'.repeat(64),
  series: 'K',
  ways: ['cash'],
  provider: {
    key: 'test',
    name: 'Test payments',
    start: 'https://pay.example.org/start',
    bearer: 'nobody',
    webhookKeys: [`whsec_${WEBHOOK_KEY.toString('base64')}`],
  },
};

export function webhookOf(type: string, id: string, data: object): Asked {
  const body = JSON.stringify({ type, timestamp: new Date().toISOString(), data });
  return { method: 'POST', headers: webhookHeads(WEBHOOK_KEY, id, body), body };
}

/** Begins and ends as a JPEG does; the same each time it is made, as a laptop's would be. */
export function finalOf(picture: string): Buffer {
  const bytes = largePictures.includes(picture) ? BYTES.large : BYTES.small;
  const key = createHash('sha256').update(picture).digest();
  const noise = createCipheriv('aes-256-ctr', key, Buffer.alloc(16)).update(Buffer.alloc(bytes));
  return Buffer.concat([Buffer.from('ffd8', 'hex'), noise, Buffer.from('ffd9', 'hex')]);
}

export const filesOfLargeSet = (): readonly Buffer[] => largePictures.map(finalOf);

export const laptopsMaker: FinalMaker = {
  make: async (pictures, _, folder) => {
    const made = new Map<string, { path: string }>();
    for (const picture of pictures) {
      const path = join(folder, picture);
      await writeFile(path, finalOf(picture));
      made.set(picture, { path });
    }
    return made;
  },
};
