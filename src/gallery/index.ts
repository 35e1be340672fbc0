/** The public gallery as pages of HTML. Pure: what is shown comes from `planGallery`, files are written by host. */
import type { Gallery } from '../core/handover/types.js';
import { cannotFindPage } from './askPages.js';
import { findPage } from './findPage.js';
import type { Page, Site } from './html.js';
import { listPages } from './listPages.js';
import { privacyPage } from './privacyPage.js';
import { riderPages } from './riderPages.js';
import { type PagesWish, sitesOf } from './sites.js';

export { type FindFiles, findFilesOf, ownAddress, ownPagesOf } from './finder/index.js';
export type { Page, Shop, Style } from './html.js';
export { FACE, faceFiles, type PictureFile, smallFiles } from './pictures.js';
export { LANGUAGES, type Language } from './words/index.js';

/** In every language, the photographer's own first. */
export const pagesOf = (gallery: Gallery, wish: PagesWish = {}): readonly Page[] =>
  sitesOf(gallery, wish).flatMap(pagesIn);

const pagesIn = (site: Site): readonly Page[] => [
  findPage(site),
  cannotFindPage(site),
  privacyPage(site),
  ...listPages(site),
  ...riderPages(site),
];
