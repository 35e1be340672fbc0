/** The public gallery as pages of HTML. Pure: what is shown comes from `planGallery`, files are written by host. */
import type { Gallery } from '../core/handover/types.js';
import { findPage } from './findPage.js';
import type { Page } from './html.js';
import { listPages } from './listPages.js';
import { riderPages } from './riderPages.js';

export { FACE, smallSize } from './card.js';
export type { Page } from './html.js';

export const pagesOf = (gallery: Gallery): readonly Page[] => [
  findPage(gallery),
  ...listPages(gallery),
  ...riderPages(gallery),
];
