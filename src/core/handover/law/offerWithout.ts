import type { Offer } from '../orders/index.js';
import type { PublicId } from '../types.js';

/** The offer without what was taken down: its pictures and its riders can be had no more, whatever was withdrawn before stays so. */
export function offerWithout(offer: Offer, down: Iterable<PublicId>): Offer {
  const gone = new Set(down);
  const here = [...offer.pictures.map(({ id }) => id), ...offer.riders.map(({ publicId }) => publicId)];
  const withdrawn = new Set([...offer.withdrawn, ...here.filter((id) => gone.has(id))]);
  return {
    ...offer,
    riders: offer.riders.filter(({ publicId }) => !withdrawn.has(publicId)),
    withdrawn: [...withdrawn],
  };
}
