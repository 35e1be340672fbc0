/** Who orders, how it is paid, and the two ticks about downloads, none of them ticked before. */
import { html } from 'hono/html';
import type { WayToPay } from '../../core/handover/orders/index.js';
import { type BasketSeen, linesOf, totalsOf } from './basketPage.js';
import { type Html, nothing } from './frame.js';
import { termsOf } from './licences.js';
import { wordsOf } from './words/index.js';
import { lawWords } from './words/law.js';

export type Lack = 'name' | 'mail' | 'address' | 'way' | 'consent';

/** As typed, so that nothing is typed twice. */
export interface Typed {
  readonly name: string;
  readonly mail: string;
  readonly address: string;
  readonly way: string;
}

export interface OrderFormSeen extends BasketSeen {
  readonly ways: readonly WayToPay[];
  readonly provider: string | null;
  /** Then the browser offers nobody what another typed before. */
  readonly isAtVan: boolean;
  readonly needsAddress: boolean;
  readonly needsConsent: boolean;
  readonly typed: Typed;
  readonly lacks: readonly Lack[];
}

export function orderForm(seen: OrderFormSeen): Html {
  const { offer, language, token, basket, ways, typed, lacks } = seen;
  const words = wordsOf[language];
  const invalid = (lack: Lack) => (lacks.includes(lack) ? html` aria-invalid="true"` : nothing);
  return html`${lacks.length === 0 ? nothing : html`<div role="alert"><p class="note">${words.mend}</p><ul>${lacks.map((lack) => html`<li>${words.lacks[lack]}</li>`)}</ul></div>`}
${linesOf(seen, false)}${totalsOf(seen)}${termsOf(basket.lines, offer, language)}
<form method="post" action="/${offer.meeting}/order" class="form">
<input type="hidden" name="token" value="${token}"><input type="hidden" name="seen" value="${basket.totals.toPay}">
<label for="name">${words.name}</label><input id="name" name="name" required maxlength="100" autocomplete="${seen.isAtVan ? 'off' : 'name'}" value="${typed.name}"${invalid('name')}>
<label for="mail">${words.mail}</label><input id="mail" name="mail" type="email" required maxlength="200" autocomplete="${seen.isAtVan ? 'off' : 'email'}" value="${typed.mail}" aria-describedby="why"${invalid('mail')}>
<p id="why" class="quiet">${words.mailWhy}</p>
${seen.needsAddress ? html`<label for="address">${words.address}</label><textarea id="address" name="address" required rows="4" maxlength="400" autocomplete="${seen.isAtVan ? 'off' : 'street-address'}"${invalid('address')}>${typed.address}</textarea>` : nothing}
${ways.length === 0 ? nothing : html`<fieldset><legend>${words.howToPay}</legend>${ways.map((way) => html`<label class="tick"><input type="radio" name="way" value="${way}" required ${typed.way === way ? html`checked` : nothing}> ${words.way[way].replace('{name}', seen.provider ?? '')}</label>`)}</fieldset>`}
${
  seen.needsConsent
    ? html`<fieldset><legend>${words.downloads}</legend>
<label class="tick"><input type="checkbox" name="supply" value="yes" required> ${words.consentSupply}</label>
<label class="tick"><input type="checkbox" name="loss" value="yes" required> ${words.consentLoss}</label></fieldset>`
    : nothing
}
${seen.needsAddress ? html`<p class="quiet">${lawWords[language].prints}</p>` : nothing}
<button class="strong">${basket.totals.toPay === 0 ? words.orderFree : words.orderToPay}</button>
</form>`;
}
