/** The public gallery as pages of HTML. Pure: what is shown comes from `planGallery`, files are written by host. */
import type { Gallery } from '../core/handover/types.js';
import { cannotFindPage } from './askPages.js';
import type { Findable } from './finder/index.js';
import { findPage } from './findPage.js';
import type { Page, Shop, Site } from './html.js';
import { listPages } from './listPages.js';
import { riderPages } from './riderPages.js';
import { LANGUAGES, type Language, tongueOf } from './words/index.js';

export { type FindFiles, findFilesOf, ownAddress, ownPagesOf } from './finder/index.js';
export type { Page, Shop } from './html.js';
export { FACE, faceFiles, type PictureFile, smallFiles } from './pictures.js';
export { LANGUAGES, type Language } from './words/index.js';

export interface PagesWish {
  /** The photographer's own, whose pages lie at the root; the others lie in folders of their own. */
  readonly language?: Language;
  readonly shop?: Shop | null;
  readonly findable?: Findable;
}

/** In every language, the photographer's own first. */
export function pagesOf(gallery: Gallery, { language = 'en', shop = null, findable }: PagesWish = {}): readonly Page[] {
  const others = LANGUAGES.filter((one) => one !== language);
  return [language, ...others].flatMap((one) =>
    pagesIn({ gallery, tongue: tongueOf(one, language), home: language, shop, ...(findable && { findable }) }),
  );
}

const pagesIn = (site: Site): readonly Page[] => [
  findPage(site),
  cannotFindPage(site),
  ...listPages(site),
  ...riderPages(site),
];
