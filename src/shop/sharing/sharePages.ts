/** The page the organiser is sent: first the password, then what they may do, then the pictures. In English, as its terms are. */
import { html } from 'hono/html';
import { type Html, pageOf } from '../pages/frame.js';
import type { Share } from './shares.js';

export const doorPage = (share: Pick<Share, 'id'>, token: string, refused: 'wrong' | 'too-often' | null): Html =>
  pageOf({
    language: 'en',
    isInOneLanguage: true,
    // Whose pictures they are is not told before the password.
    title: 'Pictures that were shared with you',
    offer: null,
    body: html`${refused === null ? '' : html`<p class="lead" role="alert">${REFUSED[refused]}</p>`}
<form class="form" method="post" action="/for/${share.id}"><input type="hidden" name="token" value="${token}">
<label for="password">The password you were given</label><input id="password" name="password" type="password" autocomplete="current-password" required maxlength="200">
<button class="strong">See the pictures</button></form>`,
  });

const REFUSED = {
  wrong: 'That is not the password. Ask whoever sent you the address.',
  'too-often': 'Too many tries. Wait a minute, then try again.',
} as const;

export function sharePage(share: Share): Html {
  const { id, title, terms, pictures } = share;
  const listed = (of: readonly string[]) => html`<ul class="list">${of.map((line) => html`<li>${line}</li>`)}</ul>`;
  const picture = ({ number, file, caption }: Share['pictures'][number]) =>
    html`<li><a href="/for/${id}/pictures/${file}" download><img src="/for/${id}/small/${file}" alt="${caption}" loading="lazy"></a><p>${number}. ${caption}</p></li>`;
  return pageOf({
    language: 'en',
    isInOneLanguage: true,
    title,
    offer: null,
    body: html`<h2>What you may do</h2>${listed(terms.may)}
<h2>What you may not do</h2>${listed(terms.mayNot)}
<h2>What is asked of you</h2>${listed(terms.duties)}
<p class="quiet">${terms.note}</p>
<p><a href="/for/${id}/papers/contact-sheet.pdf">All on one sheet (PDF)</a> · <a href="/for/${id}/papers/captions.csv">Captions (CSV)</a> · <a href="/for/${id}/papers/terms.txt">These terms (text)</a></p>
<h2>${pictures.length} ${pictures.length === 1 ? 'picture' : 'pictures'}</h2>
<ul class="pictures">${pictures.map(picture)}</ul>`,
  });
}
