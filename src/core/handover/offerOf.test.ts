import { expect, it } from 'vitest';
import { galleryDay } from '../../../test/builders/galleryDay.js';
import { offerSchema, priceListSchema } from '../../shop/service/schemas.js';
import type { RiderId } from '../ids.js';
import { offerOf } from './offerOf.js';
import { minorOf } from './orders/index.js';
import { planGallery } from './planGallery.js';

const publicIdOf = (_kind: string, what: string) =>
  [...what]
    .reduce((hash, letter) => (hash * 33n + BigInt(letter.charCodeAt(0))) % (1n << 127n), 7n)
    .toString(16)
    .padStart(32, '0');

it('FN32: the offer tells the service public ids, liveries and prices, as the service reads them, and no name', () => {
  const day = galleryDay();
  const { gallery } = planGallery({
    ...day,
    edition: 'first',
    contact: null,
    proofs: new Map(
      [...day.keepers.byRider.values()].flat().map(({ bike }) => [bike.frameId, { widthPx: 9, heightPx: 6 }]),
    ),
    publicIdOf,
    mint: (face) => `minted ${face}` as RiderId,
  });
  const list = priceListSchema.parse({
    seller: { name: 'Quill', lines: [] },
    prices: {
      currency: 'EUR',
      includesTax: true,
      isPaidByOrganiser: false,
      products: [
        { key: 'one', kind: 'picture', name: 'One', price: minorOf(900, 'test'), taxRate: 2000, licence: 'personal' },
      ],
    },
  });
  const offer = offerOf({
    gallery,
    arrangement: day.arrangement,
    meeting: publicIdOf('meeting', 'm'),
    address: null,
    seller: { contact: null, ...list.seller },
    prices: list.prices,
    withdrawn: [publicIdOf('frame', 'gone')],
  });
  expect(offerSchema.parse(offer)).toEqual(offer);
  expect(offer.riders.map((rider) => rider.publicId)).toEqual(gallery.riders.map((rider) => rider.publicId));
  expect(offer.pictures).toHaveLength(
    new Set(gallery.riders.flatMap(({ pictures }) => pictures.map(({ id }) => id))).size,
  );
  expect(offer.pictures[0]!.day).toBe('2026-09-19');
  expect(offer.riders.every((rider) => rider.isJoinedByGuess)).toBe(true);
  const text = JSON.stringify(offer);
  for (const { frameId, mainFile, path } of day.arrangement.exposures)
    for (const secret of [frameId, mainFile, path]) expect(text).not.toContain(secret);
});
