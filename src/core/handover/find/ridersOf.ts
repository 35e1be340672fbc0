/** The riders of a gallery as they are looked for. What the pages do not show is asked of `known`. */
import { foundUnder } from '../../measure/index.js';
import type { Gallery, GalleryPicture, GalleryRider } from '../types.js';
import { wordsOf } from './keys.js';
import { quarterOf } from './quarters.js';
import type { FindEntry, FindRider } from './types.js';

/** Of the entry list and `people/`; nothing of it stands on a page. */
export interface KnownOfRider {
  readonly class: string | null;
  /** Only where the organiser allows that riders are looked for by name, and the rider is of age. */
  readonly name: string | null;
  readonly card: string | null;
}

export const NOTHING_KNOWN: KnownOfRider = { class: null, name: null, card: null };

export function findRidersOf(
  gallery: Gallery,
  known: (rider: GalleryRider) => KnownOfRider = () => NOTHING_KNOWN,
): readonly FindRider[] {
  const groups = new Map(gallery.sessions.map((session) => [session.index, session.group]));
  const spots = new Map(gallery.spots.map((spot) => [spot.name, spot.number]));
  return gallery.riders.map((rider) => {
    const { class: ofClass, name, card } = known(rider);
    return {
      id: rider.publicId,
      bike: foundUnder(rider.colours),
      leathers: rider.look.leathers,
      number:
        rider.number === null ? null : { text: rider.number.text, isGuess: rider.number.source.kind === 'guessed' },
      class: ofClass,
      words: name === null ? [] : wordsOf(name),
      card,
      entries: rider.pictures.map((picture) => entryOf(picture, groups, spots)),
    };
  });
}

function entryOf(
  picture: GalleryPicture,
  groups: ReadonlyMap<number, string | null>,
  spots: ReadonlyMap<string, number>,
): FindEntry {
  return {
    session: picture.session,
    group: picture.session === null ? null : (groups.get(picture.session) ?? null),
    spot: picture.spot === null ? null : (spots.get(picture.spot) ?? null),
    quarter: picture.wall === null ? null : quarterOf(picture.wall),
  };
}
