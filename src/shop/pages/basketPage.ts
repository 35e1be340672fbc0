/** The basket with what it comes to, and the form to order it. */
import { html } from 'hono/html';
import { heldInAnother, moneyText, type Offer, type PricedBasket } from '../../core/handover/orders/index.js';
import { lineText } from '../service/basketCookie.js';
import { type Html, nothing } from './frame.js';
import { lineName } from './lineName.js';
import { priceText, taxLines } from './money.js';
import { type Language, type Words, wordsOf } from './words/index.js';

export interface BasketSeen {
  readonly offer: Offer;
  readonly language: Language;
  readonly token: string;
  readonly basket: PricedBasket;
  readonly prepaid: number;
  readonly note?: string;
}

export function basketPage(seen: BasketSeen): Html {
  const { offer, basket, language, token } = seen;
  const words = wordsOf[language];
  const action = `/${offer.meeting}/basket`;
  const hidden = html`<input type="hidden" name="token" value="${token}">`;
  const voucher = html`<form method="post" action="${action}" class="line">${hidden}<label for="code">${words.voucher}</label><input id="code" name="code" maxlength="40" autocomplete="off" value="${basket.voucher?.code ?? ''}"><button name="do" value="code">${words.useVoucher}</button></form>`;
  return html`${said(seen, words)}
${basket.lines.length === 0 ? html`<p>${words.empty}</p>` : html`${linesOf(seen, true)}${voucher}${totalsOf(seen)}<p><a class="strong" href="/${offer.meeting}/order">${words.goOn}</a></p>`}`;
}

function said({ note, offer, basket }: BasketSeen, words: Words): Html {
  const nameOf = (key: string) => offer.prices.products.find((product) => product.key === key)?.name ?? key;
  const lines = [
    ...(note === undefined ? [] : [note]),
    ...basket.troubles.map(({ line, is }) => `${nameOf(line.product)} ${words.trouble[is]}.`),
    ...(basket.voucher === null ? [] : [words.voucherIs[basket.voucher.is]]),
  ];
  return lines.length === 0
    ? nothing
    : html`<div role="status">${lines.map((line) => html`<p class="note">${line}</p>`)}</div>`;
}

export function linesOf({ offer, basket, language, token }: BasketSeen, canChange: boolean): Html {
  const words = wordsOf[language];
  const { currency } = offer.prices;
  const hidden = html`<input type="hidden" name="token" value="${token}">`;
  const held = heldInAnother(basket.lines);
  const rows = basket.lines.map((line, n) => {
    const text = lineText(line);
    const { asked } = line;
    const twice = held.includes(line) ? html` <b>${words.heldInAnother}</b>` : nothing;
    const name = html`${lineName(line, offer, language)}${twice}`;
    const count =
      asked.kind === 'print' && canChange
        ? html`<form method="post" action="/${offer.meeting}/basket" class="line">${hidden}<input type="hidden" name="line" value="${text}"><input name="count" type="number" min="1" max="99" value="${line.quantity}" aria-label="${words.count}: ${line.name} ${n + 1}"><button name="do" value="count">${words.change}</button></form>`
        : html`${line.quantity}`;
    const out = canChange
      ? html`<td><form method="post" action="/${offer.meeting}/basket">${hidden}<input type="hidden" name="line" value="${text}"><button name="do" value="out" aria-label="${words.remove}: ${line.name} ${n + 1}">${words.remove}</button></form></td>`
      : nothing;
    return html`<tr><td>${name}</td><td>${count}</td><td class="sum">${priceText((line.unitPrice * line.quantity) as typeof line.unitPrice, currency, language, words)}</td>${out}</tr>`;
  });
  const last = canChange ? html`<th><span class="unseen">${words.remove}</span></th>` : nothing;
  return html`<table class="sheet${canChange ? ' mine' : ''}"><thead><tr><th>${words.what}</th><th>${words.count}</th><th class="sum">${words.price}</th>${last}</tr></thead><tbody>${rows}</tbody></table>`;
}

export function totalsOf({ offer, basket, language, prepaid }: BasketSeen): Html {
  const words = wordsOf[language];
  const { totals } = basket;
  const { currency, includesTax } = offer.prices;
  const money = (amount: number) => moneyText(amount as typeof totals.toPay, currency, language);
  return html`<dl class="totals">
${totals.off === 0 ? nothing : html`<dt>${words.off}</dt><dd>${money(0 - totals.off)}</dd>`}
<dt class="strong">${words.total}</dt><dd class="strong">${money(totals.toPay)}</dd>
${prepaid === 0 ? nothing : html`<dt>${words.prepaid}</dt><dd>${money(prepaid)}</dd>`}
${taxLines(totals, includesTax, language, words).map(({ label, amount }) => html`<dt class="quiet">${label}</dt><dd class="quiet">${amount}</dd>`)}
</dl>`;
}
