/** What the order service is told of a meeting: public ids, liveries and prices; no name, no file. */
import type { Arrangement } from '../arrange/types.js';
import type { FoldedLog } from '../log/types.js';
import { joinedByGuess } from './joinedByGuess.js';
import { ownTermsOf, type TermsAbout } from './law/index.js';
import type { Offer } from './orders/index.js';
import type { Gallery, PublicId } from './types.js';

export interface OfferInput {
  readonly gallery: Gallery;
  readonly arrangement: Pick<Arrangement, 'riders' | 'passes' | 'exposures'>;
  readonly log: Pick<FoldedLog, 'inForce'>;
  /** Whom to name, and the photographer's own licence texts. */
  readonly about: TermsAbout;
  readonly meeting: PublicId;
  /** Where the gallery is to be found. */
  readonly address: string | null;
  /** Of its first pages; English where it was not said. */
  readonly language?: string;
  readonly seller: Offer['seller'];
  readonly prices: Offer['prices'];
  readonly withdrawn: readonly PublicId[];
}

export function offerOf(input: OfferInput): Offer {
  const { gallery, arrangement, log, about, meeting, address, language = 'en', seller, prices, withdrawn } = input;
  const shown = new Map(gallery.riders.map(({ key, pictures }) => [key, new Set(pictures.map((one) => one.frameId))]));
  const guessed = joinedByGuess(arrangement, log, (rider) => shown.get(rider) ?? new Set());
  const credit = about.credit ?? about.creator;
  const days = new Map<PublicId, string | null>();
  for (const { pictures } of gallery.riders)
    for (const { id, wall } of pictures) days.set(id, wall === null ? null : new Date(wall).toISOString().slice(0, 10));
  return {
    v: 1,
    meeting,
    edition: gallery.edition,
    title: gallery.title,
    firstDay: gallery.firstDay,
    lastDay: gallery.lastDay,
    gallery: address,
    language,
    seller,
    prices,
    pictures: [...days].map(([id, day]) => ({ id, day })),
    riders: gallery.riders.map(({ publicId, livery, look, number, pictures, key }) => ({
      publicId,
      livery,
      look,
      ...(number === null ? {} : { number: number.text }),
      pictures: pictures.map(({ id }) => id),
      isJoinedByGuess: guessed.has(key),
    })),
    sessions: gallery.sessions.map(({ name, riders }) => ({ name, riders })),
    ...(credit === undefined ? {} : { credit }),
    terms: ownTermsOf(about),
    withdrawn,
  };
}
