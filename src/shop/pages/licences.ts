/** Under which terms a thing is sold: in a word beside its name, and as the whole text behind it. Rule LW1. */
import { html } from 'hono/html';
import { termsOfSale } from '../../core/handover/law/index.js';
import type { Offer, OrderLine, Product } from '../../core/handover/orders/index.js';
import { type Html, nothing } from './frame.js';
import { type Language, wordsOf } from './words/index.js';
import { lawWords } from './words/law.js';

type Sold = Pick<Product, 'kind' | 'licence'> | Pick<OrderLine, 'asked' | 'licence'>;

const isFile = (sold: Sold): boolean => ('kind' in sold ? sold.kind : sold.asked.kind) !== 'print';

/** Nothing of paper, which is its buyer's own. */
export const licenceText = (sold: Sold, language: Language): readonly string[] =>
  isFile(sold) ? [lawWords[language].licence[sold.licence]] : [];

/** Under which terms, then how many: small, under a name. */
export const underName = (line: Pick<OrderLine, 'asked' | 'licence' | 'pictures'>, language: Language): string =>
  [...licenceText(line, language), wordsOf[language].pictures(line.pictures.length)].join(
    language === 'ar' ? '، ' : ', ',
  );

/** Each licence that is among them, once. */
export function termsOf(sold: readonly Sold[], offer: Offer, language: Language): Html {
  const licences = [...new Set(sold.filter(isFile).map(({ licence }) => licence))];
  if (licences.length === 0) return nothing;
  const words = lawWords[language];
  return html`${licences.map((licence) => html`<details><summary>${words.terms} ${words.licence[licence]}</summary><p>${termsOfSale(licence, language, offer)}</p></details>`)}`;
}
