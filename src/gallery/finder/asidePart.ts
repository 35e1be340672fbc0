/** Where pictures go that a rider says are not of them, on the rider's own page; empty and hidden until the script fills it. */
import { xml } from '../../core/finish/index.js';
import type { GalleryRider } from '../../core/handover/types.js';
import type { Site } from '../html.js';
import { finderWords } from './words.js';

export function asidePart({ tongue }: Site, rider: GalleryRider): string {
  const { notMe, putBack, aside, asideWhy } = finderWords[tongue.language];
  const words = xml(JSON.stringify({ notMe, putBack }));
  return `<section class="aside" id="aside" hidden aria-labelledby="aside-head" data-rider="${rider.publicId}" data-words="${words}"><h2 id="aside-head" tabindex="-1">${xml(aside)}</h2>\n<p class="note">${xml(asideWhy)}</p>\n<ul class="pictures"></ul></section>`;
}
