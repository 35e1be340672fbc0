/** The pages behind a link: the set, or why there is none. Plain pages; what is fetched is a plain link. */
import { html } from 'hono/html';
import type { HandedFile, Offer } from '../../../core/handover/orders/index.js';
import { type Html, nothing } from '../../pages/frame.js';
import { dayText } from '../../pages/offerPages.js';
import type { Language } from '../../pages/words/index.js';
import type { FinalAnswer } from '../types.js';
import { dateText, handingWords, sizeText } from '../words/index.js';

export interface SetSeen {
  readonly offer: Offer;
  readonly language: Language;
  /** Of this page, without a slash at the end. */
  readonly address: string;
  readonly expiresAt: number;
  readonly files: readonly (HandedFile & { readonly answer: FinalAnswer })[];
  /** Of the whole, where it can be fetched. */
  readonly zipBytes: number | null;
}

export function setPage({ offer, language, address, expiresAt, files, zipBytes }: SetSeen): Html {
  const words = handingWords[language];
  return html`${standing(files, language)}
${zipBytes === null ? nothing : html`<p><a class="strong" href="${address}/all.zip" rel="nofollow" download>${words.allInOne(sizeText(zipBytes, language))}</a></p><p class="note">${words.resumes}</p>`}
<ul class="list">${files.map((file) => (file.answer.kind === 'ready' ? html`<li><a href="${address}/${file.number}.jpg" rel="nofollow" download>${words.one(file.number)}${file.day === null || offer.firstDay === offer.lastDay ? '' : html` · ${dayText(file.day, language)}`}</a> <span class="quiet">${sizeText(file.answer.bytes, language)}</span></li>` : nothing))}</ul>
<p class="note">${words.goodUntil(dateText(expiresAt, language))}</p>`;
}

/** In the order of what the buyer can do about it. */
function standing(files: SetSeen['files'], language: Language): Html {
  const words = handingWords[language];
  const of = (kind: FinalAnswer['kind']) => files.filter(({ answer }) => answer.kind === kind).length;
  const ready = of('ready');
  return html`${of('being-made') > 0 ? html`<p class="lead">${words.making(ready, files.length)}</p>` : nothing}
${of('waits-for-laptop') > 0 ? html`<p class="lead">${words.waitsForLaptop(ready, files.length)}</p>` : nothing}
${of('cannot') > 0 ? html`<p class="lead">${words.cannot(of('cannot'))}</p>` : nothing}`;
}

/** Run out or replaced: a fresh one goes to the order's own address, and is never shown to whoever has the old one. */
export function expiredPage(language: Language, address: string, sendsLetters: boolean): Html {
  const words = handingWords[language];
  if (!sendsLetters) return html`<p>${words.noLetters}</p>`;
  return html`<p>${words.expiredWords}</p>
<form method="post" action="${address}/renew"><button class="strong">${words.renew}</button></form>`;
}
