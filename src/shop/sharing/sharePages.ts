/** The page the organiser is sent: first the password, then what they may do, then the pictures. In the service's languages. Rule OG33. */
import { html } from 'hono/html';
import { type Html, pageOf } from '../pages/frame.js';
import { type Language, wordsOf } from '../pages/words/index.js';
import type { Share } from './shares.js';
import { shareWords } from './words.js';

export function doorPage(
  { id }: Pick<Share, 'id'>,
  token: string,
  refused: 'wrong' | 'tooOften' | null,
  language: Language,
): Html {
  const words = shareWords[language];
  return pageOf({
    language,
    // Whose pictures they are is not told before the password.
    title: words.door,
    offer: null,
    body: html`${refused === null ? '' : html`<p class="lead" role="alert">${words[refused]}</p>`}
<form class="form" method="post" action="/for/${id}"><input type="hidden" name="token" value="${token}">
<label for="password">${words.password}</label><input id="password" name="password" type="password" autocomplete="current-password" required maxlength="200">
<button class="strong">${words.see}</button></form>`,
  });
}

export function sharePage(share: Share, language: Language): Html {
  const { id, title, pictures } = share;
  const words = shareWords[language];
  const terms = share.translations?.[language] ?? share.terms;
  const listed = (of: readonly string[]) => html`<ul class="list">${of.map((line) => html`<li>${line}</li>`)}</ul>`;
  // Captions are written once, in English.
  const picture = ({ number, file, caption }: Share['pictures'][number]) =>
    html`<li lang="en" dir="ltr"><a href="/for/${id}/pictures/${file}" download><img src="/for/${id}/small/${file}" alt="${caption}" loading="lazy"></a><p>${number}. ${caption}</p></li>`;
  const spoken = terms === share.terms ? 'en' : language;
  return pageOf({
    language,
    title,
    offer: null,
    body: html`<div lang="${spoken}"${spoken === language ? '' : html` dir="ltr"`}><h2 lang="${language}">${words.may}</h2>${listed(terms.may)}
<h2 lang="${language}">${words.mayNot}</h2>${listed(terms.mayNot)}
<h2 lang="${language}">${words.duties}</h2>${listed(terms.duties)}
<p class="quiet">${terms.note}</p></div>
<p><a href="/for/${id}/papers/contact-sheet.pdf">${words.sheet}</a> · <a href="/for/${id}/papers/captions.csv">${words.captions}</a> · <a href="/for/${id}/papers/terms.txt">${words.text}</a></p>
<h2>${wordsOf[language].pictures(pictures.length)}</h2>
<ul class="pictures">${pictures.map(picture)}</ul>`,
  });
}
