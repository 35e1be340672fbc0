/** The frame every page of the service stands in, in the gallery's look. No scripts; everything put in is escaped by the template. */
import { html, raw } from 'hono/html';
import type { HtmlEscapedString } from 'hono/utils/html';
import { PRIVACY_TITLE } from '../../core/handover/law/index.js';
import type { Offer } from '../../core/handover/orders/index.js';
import { galleryIn } from './inLanguage.js';
import { LANGUAGES, type Language, wordsOf } from './words/index.js';

export type Html = HtmlEscapedString | Promise<HtmlEscapedString>;

export interface FrameSpec {
  readonly language: Language;
  readonly title: string;
  readonly offer: Offer | null;
  readonly body: Html;
  /** Lines in the basket; absent where the page is of no meeting. */
  readonly inBasket?: number;
}

export function pageOf(spec: FrameSpec): Html {
  const { language, title, offer, body, inBasket } = spec;
  const mast = offer === null ? title : offer.title;
  return html`<!doctype html>
<html lang="${language}" dir="${language === 'ar' ? 'rtl' : 'ltr'}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow, noarchive">
<title>${title === mast ? title : `${title} – ${mast}`}</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/look/orders.css">
</head>
<body>
<header><div class="mast">${offer === null ? '' : html`<a class="meeting" href="/${offer.meeting}"><bdi>${mast}</bdi></a>`}</div>
${offer === null ? '' : wayOf(offer, language, inBasket)}</header>
<main>
<h1${title === mast && offer !== null ? html` class="unseen"` : nothing}><bdi>${title}</bdi></h1>
${body}
</main>
<footer>
${offer === null ? '' : html`${sellerOf(offer)}${privacyOf(offer, language)}`}
${languagesOf(language)}
</footer>
</body>
</html>
`;
}

const languagesOf = (language: Language): Html =>
  html`<nav aria-label="${wordsOf[language].language}"><ul class="way">${LANGUAGES.map((one) => (one === language ? html`<li lang="${one}" aria-current="true">${wordsOf[one].language}</li>` : html`<li><a lang="${one}" hreflang="${one}" href="?language=${one}">${wordsOf[one].language}</a></li>`))}</ul></nav>`;

function wayOf(offer: Offer, language: Language, inBasket?: number): Html {
  const words = wordsOf[language];
  const gallery = galleryIn(offer, language);
  const back = gallery === null ? '' : html`<li><a href="${gallery}" rel="noreferrer">${words.toGallery}</a></li>`;
  const basket = html`<li><a href="/${offer.meeting}/basket">${words.basket}${inBasket === undefined ? '' : ` (${inBasket})`}</a></li>`;
  return html`<nav aria-label="${words.wholeOffer}"><ul class="way">${back}${basket}</ul></nav>`;
}

function sellerOf({ seller }: Offer): Html {
  const contact = seller.contact === null ? '' : html`<br>${addressOf(seller.contact)}`;
  return html`<p class="word"><bdi>${seller.name}</bdi>${seller.lines.map((line) => html`<br><bdi>${line}</bdi>`)}${contact}</p>`;
}

/** What becomes of a name and an address is said before they are typed. */
const privacyOf = (offer: Offer, language: Language): Html =>
  offer.gallery === null
    ? nothing
    : html`<p><a href="${galleryIn(offer, language)}privacy.html" rel="noreferrer">${PRIVACY_TITLE[language]}</a></p>`;

const addressOf = (contact: string): Html =>
  /^[^\s@<>"]+@[^\s@<>"]+$/.test(contact) ? html`<a href="mailto:${contact}">${contact}</a>` : html`${contact}`;

export const textOf = async (page: Html): Promise<string> => (await page).toString();
export const nothing: Html = raw('');
