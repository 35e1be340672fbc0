/** Finding, as files: the index with what its script shows, and the pages behind private links. */
import { findRidersOf, fnv1a64, type KnownOfRider, layIndex, type OwnSet } from '../../core/handover/find/index.js';
import type { Gallery, GalleryRider, PublicId } from '../../core/handover/types.js';
import { MOST_CARDS } from '../findPage.js';
import type { Page } from '../html.js';
import { type PagesWish, sitesOf } from '../sites.js';
import type { Language } from '../words/index.js';
import { cardFiles, FIND_FOLDER, type Findable } from './finderPart.js';
import { ownPages } from './ownPages.js';

export type { Findable } from './finderPart.js';
export { ownAddress } from './ownPages.js';

export interface FindFiles {
  /** By their paths from the gallery's root. */
  readonly files: ReadonlyMap<string, string>;
  readonly findable: Findable;
}

/** @param meeting the meeting's public id */
export function findFilesOf(
  gallery: Gallery,
  known: (rider: GalleryRider) => KnownOfRider,
  meeting: PublicId,
  language: Language,
): FindFiles {
  const riders = findRidersOf(gallery, known);
  const index = layIndex(riders, meeting);
  const cards =
    gallery.riders.length <= MOST_CARDS ? [] : sitesOf(gallery, { language }).flatMap((site) => [...cardFiles(site)]);
  const files = [...index, ...cards];
  return {
    files: new Map(files.map(([name, text]) => [`${FIND_FOLDER}${name}`, text])),
    findable: {
      mark: fnv1a64(files.map(([, text]) => text).join('')),
      classes: [...new Set(riders.flatMap((rider) => rider.class ?? []))].sort(),
      hasNames: riders.some((rider) => rider.words.length > 0),
    },
  };
}

/** In every language, as all other pages. */
export const ownPagesOf = (
  gallery: Gallery,
  sets: readonly OwnSet[],
  { address, ...wish }: PagesWish & { readonly address: string | null },
): readonly Page[] => sitesOf(gallery, wish).flatMap((site) => ownPages(site, sets, address));
