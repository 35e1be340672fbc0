/** Rule PU5 in docs/rules/putting-up.md. */
import { expect, it } from 'vitest';
import { galleryDay } from '../../../test/builders/galleryDay.js';
import { planGallery } from '../../core/handover/index.js';
import { firstOf } from '../../core/handover/putUp/index.js';
import { mintWith, publicIdsOf } from './secret.js';
import { withBestOnly } from './withBestOnly.js';

const SECRET = 'ab'.repeat(32);

it('PU5: the gallery that is made first shows the pictures that are put up first, whichever of a rider’s is the face', () => {
  const day = galleryDay();
  const keptOf = (key: (typeof day.arrangement.riders)[number]['key']) => day.keepers.byRider.get(key)!;
  const riders = day.arrangement.riders.map((rider) => ({ ...rider, face: keptOf(rider.key).at(-1)!.bike }));
  const state = { ...day, arrangement: { ...day.arrangement, riders } };
  const planOf = (of: typeof state) =>
    planGallery({
      ...of,
      edition: 'day-1',
      contact: null,
      proofs: new Map(of.arrangement.exposures.map(({ frameId }) => [frameId, { widthPx: 900, heightPx: 600 }])),
      publicIdOf: publicIdsOf(SECRET),
      mint: mintWith(SECRET),
    }).gallery;
  const shown = ({ riders: all }: ReturnType<typeof planOf>) =>
    all.map(({ publicId, faceId, pictures }) => [publicId, faceId, pictures.map(({ id }) => id)].join()).sort();
  expect(shown(planOf(withBestOnly(state)))).toEqual(shown(firstOf(planOf(state))));
  expect(riders.some(({ key, face }) => keptOf(key)[0]!.bike.frameId !== face.frameId)).toBe(true);
});
