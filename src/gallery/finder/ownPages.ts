/** Pages behind private links: one rider's set and nothing of others, listed nowhere. */
import { xml } from '../../core/finish/index.js';
import type { OwnSet } from '../../core/handover/find/index.js';
import { qrPath } from '../../core/measure/cards/qrPath.js';
import type { Page, Site } from '../html.js';
import { dayPage } from '../riderPages.js';
import { finderWords } from './words.js';

export const ownPath = (id: string): string => `mine/${id}.html`;

export const ownAddress = (gallery: string, id: string): string => `${gallery.replace(/\/*$/, '/')}${ownPath(id)}`;

/** @param gallery where the gallery is to be found; without it there is no code to show */
export const ownPages = (site: Site, sets: readonly OwnSet[], gallery: string | null): readonly Page[] =>
  sets.map(({ id, rider }) =>
    dayPage(site, rider, { path: ownPath(id), head: shareOf(site, gallery === null ? null : ownAddress(gallery, id)) }),
  );

function shareOf({ tongue }: Site, address: string | null): string {
  const { own, share, copied, code } = finderWords[tongue.language];
  const words = xml(JSON.stringify({ share, copied }));
  const qr = address === null ? null : qrPath(address, 'M');
  const drawn =
    qr === null
      ? ''
      : `<svg class="qr" viewBox="0 0 ${qr.size} ${qr.size}" width="168" height="168" role="img" aria-label="${xml(code)}"><rect width="${qr.size}" height="${qr.size}" fill="#fff"/><path d="${qr.path}" fill="#000" shape-rendering="crispEdges"/></svg>`;
  return `<div class="share"><p class="note" id="share" data-words="${words}">${xml(own)} </p>${drawn}</div>`;
}
