/** What the gallery has in the reader's language: how a rider looks, and where its own pages lie. */
import type { Offer, OfferRider } from '../../core/handover/orders/index.js';
import { folderOf, tongueOf } from '../../gallery/words/index.js';
import { isLanguage, LANGUAGES, type Language } from './words/index.js';

const tongues = new Map(LANGUAGES.map((one) => [one, tongueOf(one, one)]));

export const liveryIn = ({ livery, look }: OfferRider, language: Language): string =>
  look === undefined ? livery : tongues.get(language)!.livery(look);

/** With a slash at its end; where it is not known which language lies at the root, the root. */
export function galleryIn({ gallery, language: home }: Offer, language: Language): string | null {
  if (gallery === null) return null;
  return `${gallery.replace(/\/+$/, '')}/${isLanguage(home) ? folderOf(language, home) : ''}`;
}
