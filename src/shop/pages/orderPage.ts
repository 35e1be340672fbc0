/** The order's own page, by an address nobody can guess: what it is, what is owed and how to pay it, its papers. */
import { html } from 'hono/html';
import { moneyText, type Offer, type OrderState, type Paper } from '../../core/handover/orders/index.js';
import type { EpochMs } from '../../core/units.js';
import { type Html, nothing } from './frame.js';
import { termsOf } from './licences.js';
import { lineName } from './lineName.js';
import { priceText } from './money.js';
import { withdrawalOf } from './withdrawPage.js';
import { type Language, wordsOf } from './words/index.js';
import { lawWords } from './words/law.js';

export interface OrderSeen {
  readonly state: OrderState;
  readonly offer: Offer;
  readonly papers: readonly Paper[];
  readonly language: Language;
  readonly token: string;
  readonly reference: string;
  readonly transferTo: readonly string[];
  readonly provider: string | null;
  /** What other parts of the service have to say of it. */
  readonly parts: readonly Html[];
  readonly isAtVan: boolean;
  readonly now: EpochMs;
}

export function orderPage(seen: OrderSeen): Html {
  const { state, offer, papers, language, reference, token, parts } = seen;
  const words = wordsOf[language];
  const placed = state.placed!;
  const { currency } = placed.totals;
  const money = (amount: typeof state.owed) => moneyText(amount, currency, language);
  const action = (deed: string) => `/order/${state.id}/${deed}`;
  const hidden = html`<input type="hidden" name="token" value="${token}">`;
  const isWaiting = state.standing === 'waiting-for-money';
  return html`<p class="lead"><span class="plate">${reference}</span> <b>${words.standing[state.standing]}</b></p>
${isWaiting ? html`<p><b>${words.owed}: ${money(state.owed)}</b></p>${payOf(seen)}` : nothing}
${parts}
<table class="sheet"><thead><tr><th>${words.what}</th><th>${words.count}</th><th class="sum">${words.price}</th></tr></thead><tbody>
${placed.lines.map((line) => html`<tr><td>${lineName(line, offer, language)}</td><td>${line.quantity}</td><td class="sum">${priceText((line.unitPrice * line.quantity) as typeof line.unitPrice, currency, language, words)}</td></tr>`)}
</tbody></table>
<dl class="totals">${placed.totals.off === 0 ? nothing : html`<dt>${words.off}</dt><dd>${money((0 - placed.totals.off) as typeof state.owed)}</dd>`}
<dt class="strong">${isWaiting ? words.total : words.sum}</dt><dd class="strong">${money(placed.totals.toPay)}</dd>
${state.refunded === 0 ? nothing : html`<dt>${words.refunded}</dt><dd>${money(state.refunded)}</dd>`}</dl>
${papers.length === 0 ? nothing : html`<ul class="list">${papers.map((paper) => html`<li><a href="${action(`${paper.kind}-${paper.series}-${paper.number}.pdf`)}">${paper.kind === 'invoice' ? words.receipt : words.creditNote} ${paper.series}-${paper.number}</a></li>`)}</ul>${lawWords[language].paperLanguage === null ? nothing : html`<p class="quiet">${lawWords[language].paperLanguage}</p>`}`}
${termsOf(placed.lines, offer, language)}
${seen.isAtVan ? nothing : html`<p class="note">${words.keepPage}</p>`}
${withdrawalOf(state, language, seen.now)}
${isWaiting && state.paid === 0 ? html`<form method="post" action="${action('cancel')}">${hidden}<button>${words.cancel}</button></form>` : nothing}
${seen.isAtVan ? html`<p><a class="strong" href="/${offer.meeting}/next">${words.nextRider}</a></p>` : nothing}`;
}

function payOf({ state, language, reference, transferTo, provider, token }: OrderSeen): Html {
  const words = wordsOf[language];
  const way = state.placed!.way;
  if (way === 'transfer')
    return html`<p>${words.payTransfer(reference)}</p><p class="slip">${transferTo.map((line) => html`<bdi>${line}</bdi><br>`)}</p>`;
  if (way === 'provider' && provider !== null)
    return html`<form method="post" action="/order/${state.id}/pay"><input type="hidden" name="token" value="${token}"><button class="strong">${words.payNow(provider)}</button></form>`;
  return html`<p>${words.payVan(reference)}</p>`;
}
