/** What can be had: a meeting's prices, one picture, one rider's day. */
import { html } from 'hono/html';
import {
  type BasketLine,
  type Offer,
  type OfferRider,
  type Product,
  unitPriceOf,
} from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import { lineText } from '../service/basketCookie.js';
import { type Html, nothing } from './frame.js';
import { liveryIn } from './inLanguage.js';
import { licenceText, termsOf } from './licences.js';
import { priceText } from './money.js';
import { fits, isAsked, type Sought, taps } from './soughtRiders.js';
import { type Language, localeOf, type Words, wordsOf } from './words/index.js';

export interface Seen {
  readonly offer: Offer;
  readonly language: Language;
  readonly token: string;
  readonly inBasket: readonly BasketLine[];
}

const MOST_FOUND = 24;

/** All prices, and riders by what somebody says of themselves; few enough to look through stand there unasked. */
export function meetingPage(seen: Seen, sought: Sought): Html {
  const { offer, language } = seen;
  const words = wordsOf[language];
  const gone = new Set(offer.withdrawn);
  const isShown = (rider: OfferRider) => !gone.has(rider.publicId) && faceOf(rider, gone) !== undefined;
  const fitting = offer.riders.filter(isShown).filter(fits(sought, offer, language));
  const all = isAsked(sought) || fitting.length <= MOST_FOUND ? fitting : [];
  const found = all.slice(0, MOST_FOUND);
  return html`${paidNote(seen)}
<form method="get" class="line"><label for="bike">${words.findBike}</label><input id="bike" name="bike" value="${sought.bike}" maxlength="80"><input type="hidden" name="session" value="${sought.session}"><button>${words.find}</button></form>
${taps(sought, offer, fitting, language)}
${found.length === 0 ? nothing : html`<ul class="pictures faces">${found.map((rider) => html`<li><a href="/${offer.meeting}/rider/${rider.publicId}">${small(offer, faceOf(rider, gone)!, words, null)}<bdi>${liveryIn(rider, language)}</bdi> <span class="quiet">${words.pictures(rider.pictures.length)}</span></a></li>`)}</ul>`}
${fitting.length === 0 && isAsked(sought) ? html`<p class="note" role="status">${words.nobodyFits}</p>` : nothing}
${all.length > MOST_FOUND ? html`<p class="note">${words.moreFit(all.length - MOST_FOUND)}</p>` : nothing}
<h2>${words.wholeOffer}</h2>
<ul class="list">${offer.prices.products.map((product) => html`<li><span><bdi>${product.name}</bdi>${forWhom(seen, product)}</span> <b>${priced(seen, product)}</b></li>`)}</ul>
${termsOf(offer.prices.products, offer, language)}`;
}

/** By which one of several bikes of the same colours is told. */
const faceOf = ({ pictures }: OfferRider, gone: ReadonlySet<PublicId>): PublicId | undefined =>
  pictures.find((one) => !gone.has(one));

export function picturePage(seen: Seen, picture: PublicId): Html {
  const { offer, language } = seen;
  const whose = offer.riders.filter((rider) => rider.pictures.includes(picture));
  const ofPicture = offer.prices.products.flatMap((product) =>
    product.kind === 'picture' || product.kind === 'print'
      ? [choice(seen, product, { kind: product.kind, picture })]
      : [],
  );
  return html`${paidNote(seen)}${small(offer, picture, wordsOf[language])}
<ul class="choices">${ofPicture}${whose.flatMap((rider) => ofRider(seen, rider, whose.length > 1))}</ul>`;
}

export function riderPage(seen: Seen, rider: OfferRider): Html {
  const { offer, language } = seen;
  const words = wordsOf[language];
  const gone = new Set(offer.withdrawn);
  const pictures = rider.pictures.filter((one) => !gone.has(one));
  return html`${paidNote(seen)}<p class="lead">${words.pictures(pictures.length)}</p>
<ul class="choices">${ofRider(seen, rider, false)}</ul>
<ul class="pictures">${pictures.map((one, n) => html`<li><a href="/${offer.meeting}/picture/${one}">${small(offer, one, words, n + 1)}</a></li>`)}</ul>`;
}

/** A day for each day the rider has pictures of; the weekend where there are several. */
function ofRider(seen: Seen, rider: OfferRider, isNamed: boolean): readonly Html[] {
  const { offer, language } = seen;
  const own = new Set(rider.pictures);
  const days = [...new Set(offer.pictures.flatMap(({ id, day }) => (own.has(id) && day !== null ? [day] : [])))].sort();
  const whose = isNamed ? [liveryIn(rider, language)] : [];
  return offer.prices.products.flatMap((product) => {
    if (product.kind === 'day')
      return days.map((day) =>
        choice(seen, product, { kind: 'day', rider: rider.publicId, day }, [
          ...whose,
          ...(days.length > 1 ? [dayText(day, language)] : []),
        ]),
      );
    if (product.kind === 'weekend' && offer.firstDay !== offer.lastDay)
      return [choice(seen, product, { kind: 'weekend', rider: rider.publicId }, whose)];
    return [];
  });
}

export const dayText = (day: string, language: Language): string =>
  new Intl.DateTimeFormat(localeOf(language), {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    timeZone: 'UTC',
  }).format(new Date(`${day}T00:00:00Z`));

function choice(seen: Seen, product: Product, asked: BasketLine['asked'], more: readonly string[] = []): Html {
  const words = wordsOf[seen.language];
  const line = lineText({ product: product.key, asked, quantity: 1 });
  const isIn = seen.inBasket.some((one) => lineText({ ...one, quantity: 1 }) === line);
  const name = [product.name, ...more].join(', ');
  return html`<li><span><bdi>${name}</bdi> <b>${priced(seen, product)}</b>${forWhom(seen, product)}</span>${
    isIn
      ? html`<a href="/${seen.offer.meeting}/basket">${words.inBasket}</a>`
      : html`<form method="post" action="/${seen.offer.meeting}/basket"><input type="hidden" name="token" value="${seen.token}"><input type="hidden" name="line" value="${line}"><button name="do" value="put" aria-label="${words.take}: ${name}">${words.take}</button></form>`
  }</li>`;
}

const priced = ({ offer, language }: Seen, product: Product): string =>
  priceText(unitPriceOf(product, offer.prices), offer.prices.currency, language, wordsOf[language]);

const forWhom = ({ language }: Seen, product: Product): Html =>
  html`${licenceText(product, language).map((words) => html` <span class="quiet">${words}</span>`)}`;

const paidNote = ({ offer, language }: Seen): Html =>
  offer.prices.isPaidByOrganiser ? html`<p class="lead">${wordsOf[language].paidByOrganiser}</p>` : nothing;

/** The gallery's own small picture, where there is a gallery; with null for a number it stands beside words that say it. */
export function small({ gallery }: Offer, picture: PublicId, words: Words, number?: number | null): Html {
  const alt = number === null ? '' : number === undefined ? words.thisPicture : `${words.picture} ${number}`;
  if (gallery === null) return alt === '' ? nothing : html`<span class="nopicture">${alt}</span>`;
  return html`<img src="${gallery.replace(/\/+$/, '')}/small/${picture}.jpg" alt="${alt}" width="320" height="214" loading="lazy" referrerpolicy="no-referrer">`;
}
