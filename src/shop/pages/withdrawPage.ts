/** Withdrawing from the contract in two steps, and the confirmation of it that a buyer can keep. Rule LW21. */
import { html } from 'hono/html';
import { type Withdrawable, withdrawableOf } from '../../core/handover/law/index.js';
import type { Offer, OrderState } from '../../core/handover/orders/index.js';
import type { EpochMs } from '../../core/units.js';
import { dateText, momentText } from '../handing/words/index.js';
import { referenceOf } from '../service/reference.js';
import { type Html, nothing } from './frame.js';
import type { Language } from './words/index.js';
import { lawWords } from './words/law.js';

const runs = ({ until }: Withdrawable, language: Language): string =>
  until === null ? lawWords[language].untilThere : lawWords[language].until(dateText(until, language));

/** On the order's own page: the function while the right stands, and what was said by it. */
export function withdrawalOf(state: OrderState, language: Language, now: EpochMs): Html {
  const words = lawWords[language];
  const may = withdrawableOf(state, now);
  const said = state.contractWithdrawn;
  return html`${said === null ? nothing : html`<p class="lead">${words.said(momentText(said.at, language))} ${words.goesBack}</p><ul class="list"><li><a href="/order/${state.id}/withdrawal.txt" download>${words.keep}</a></li></ul>`}
${may.length === 0 ? nothing : html`<ul class="list"><li><a href="/order/${state.id}/withdraw">${words.here}</a></li>${may.map((one) => html`<li class="quiet">${words.part[one.part]}: ${runs(one, language)}</li>`)}</ul>`}`;
}

export interface WithdrawSeen {
  readonly state: OrderState;
  readonly language: Language;
  readonly token: string;
  readonly now: EpochMs;
}

/** Who and what is known already, so it is only to be confirmed. Of what is not paid yet, all of it or nothing. */
export function withdrawPage({ state, language, token, now }: WithdrawSeen): Html {
  const words = lawWords[language];
  const placed = state.placed!;
  const may = withdrawableOf(state, now);
  const isChoice = may.length > 1 && state.owed === 0;
  const parts = may.map((one) =>
    isChoice
      ? html`<label class="tick"><input type="checkbox" name="${one.part}" value="yes"> ${words.part[one.part]}</label>`
      : html`<input type="hidden" name="${one.part}" value="yes"><p>${words.part[one.part]}</p>`,
  );
  return html`<form method="post" action="/order/${state.id}/withdraw" class="form"><input type="hidden" name="token" value="${token}">
<p>${words.statement(referenceOf(state.id), dateText(placed.at, language))}</p>
<p><bdi>${placed.contact.name}</bdi><br><bdi>${placed.contact.mail}</bdi></p>
${isChoice ? html`<fieldset><legend class="unseen">${words.here}</legend>${parts}</fieldset>` : parts}
<button class="strong">${words.confirm}</button></form>
<p class="quiet">${words.goesBack}</p>`;
}

/** Lines of the confirmation: what was said, by whom, when it came. */
export function withdrawalLines(state: OrderState, offer: Offer, language: Language): readonly string[] {
  const { placed, contractWithdrawn: said } = state;
  if (placed === null || said === null) return [];
  const words = lawWords[language];
  return [
    offer.title,
    words.statement(referenceOf(state.id), dateText(placed.at, language)),
    said.parts.map((part) => words.part[part]).join(', '),
    [placed.contact.name, placed.contact.mail].filter(Boolean).join(', '),
    words.said(momentText(said.at, language)),
    words.goesBack,
    [offer.seller.name, ...offer.seller.lines, offer.seller.contact ?? ''].filter(Boolean).join('\n'),
  ].filter((line) => line !== '');
}
