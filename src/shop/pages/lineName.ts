/** What a line of a basket or an order is: told from others of the same name by picture, rider and day. */
import { html } from 'hono/html';
import type { Offer, OrderLine } from '../../core/handover/orders/index.js';
import { type Html, nothing } from './frame.js';
import { liveryIn } from './inLanguage.js';
import { underName } from './licences.js';
import { dayText, small } from './offerPages.js';
import { type Language, wordsOf } from './words/index.js';

export function lineName(line: OrderLine, offer: Offer, language: Language): Html {
  const { asked } = line;
  const rider = 'rider' in asked ? offer.riders.find(({ publicId }) => publicId === asked.rider) : undefined;
  const more = [
    rider && liveryIn(rider, language),
    asked.kind === 'day' ? dayText(asked.day, language) : undefined,
  ].filter((one) => one !== undefined);
  const picture = 'picture' in asked && !offer.withdrawn.includes(asked.picture) ? asked.picture : null;
  return html`<bdi>${line.name}</bdi>${picture === null ? nothing : small(offer, picture, wordsOf[language], null)}${more.map((one) => html`<span class="quiet"><bdi>${one}</bdi></span>`)} <span class="quiet">${underName(line, language)}</span>`;
}
