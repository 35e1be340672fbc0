/** The letter with the link, as plain text and as simple HTML, in the buyer's language. Made when it goes out: nothing of it is stored. */
import { html } from 'hono/html';
import type { Offer, OrderState } from '../../../core/handover/orders/index.js';
import { withdrawalLines } from '../../pages/withdrawPage.js';
import { isLanguage, type Language } from '../../pages/words/index.js';
import { lawWords } from '../../pages/words/law.js';
import { dateText, handingWords, momentText } from '../words/index.js';

export interface Letter {
  readonly to: { readonly name: string; readonly address: string };
  readonly replyTo: string | null;
  readonly language: Language;
  readonly subject: string;
  readonly text: string;
  readonly html: string;
}

export interface LetterOf {
  readonly placed: NonNullable<OrderState['placed']>;
  readonly offer: Offer;
  readonly link: string;
  readonly expiresAt: number;
  readonly orderPage: string;
}

export async function letterOf({ placed, offer, link, expiresAt, orderPage }: LetterOf): Promise<Letter> {
  const language = isLanguage(placed.language) ? placed.language : 'en';
  const words = handingWords[language];
  const title = oneLine(offer.title);
  const name = oneLine(placed.contact.name);
  const seller = [offer.seller.name, ...offer.seller.lines, ...(offer.seller.contact ?? '').split('\n')].filter(
    Boolean,
  );
  const agreed = agreedOf(placed, language);
  const text = [
    words.hello(name),
    `${words.ready}\n${link}`,
    words.goodUntil(dateText(expiresAt, language)),
    words.resumes,
    `${words.orderPage}\n${orderPage}`,
    words.notYou,
    ...(agreed === null ? [] : [[agreed.intro, ...agreed.words.map((one) => `– ${one}`)].join('\n')]),
    seller.join('\n'),
  ].join('\n\n');
  const page = html`<!doctype html>
<html lang="${language}" dir="${language === 'ar' ? 'rtl' : 'ltr'}"><head><meta charset="utf-8"><title>${words.subject(title)}</title></head>
<body style="font-family: sans-serif; line-height: 1.5; max-width: 36em">
<p>${words.hello(name)}</p>
<p>${words.ready}<br><a href="${link}">${link}</a></p>
<p>${words.goodUntil(dateText(expiresAt, language))}</p>
<p>${words.resumes}</p>
<p>${words.orderPage}<br><a href="${orderPage}">${orderPage}</a></p>
<p>${words.notYou}</p>
${agreed === null ? '' : html`<p>${agreed.intro}</p><ul>${agreed.words.map((one) => html`<li>${one}</li>`)}</ul>`}
<p>${seller.map((line, i) => html`${i === 0 ? '' : html`<br>`}${line}`)}</p>
</body></html>
`;
  return {
    to: { name, address: placed.contact.mail },
    replyTo: isAddress(offer.seller.contact) ? offer.seller.contact : null,
    language,
    subject: words.subject(title),
    text: `${text}\n`,
    html: (await page).toString(),
  };
}

/** That a withdrawal arrived, with all that was said by it. */
export async function acknowledgementOf(state: OrderState, offer: Offer): Promise<Letter> {
  const { contact, language: asked } = state.placed!;
  const language = isLanguage(asked) ? asked : 'en';
  const { keep } = lawWords[language];
  const lines = withdrawalLines(state, offer, language);
  const page = html`<!doctype html>
<html lang="${language}" dir="${language === 'ar' ? 'rtl' : 'ltr'}"><head><meta charset="utf-8"><title>${keep}</title></head>
<body style="font-family: sans-serif; line-height: 1.5; max-width: 36em">${lines.map((line) => html`<p>${line}</p>`)}</body></html>
`;
  return {
    to: { name: oneLine(contact.name), address: contact.mail },
    replyTo: isAddress(offer.seller.contact) ? offer.seller.contact : null,
    language,
    subject: `${keep}: ${oneLine(offer.title)}`,
    text: `${lines.join('\n\n')}\n`,
    html: (await page).toString(),
  };
}

/** What was ticked stands in the letter, so that the buyer has it in a form that lasts. */
function agreedOf({ consent }: LetterOf['placed'], language: Language) {
  if (consent === null) return null;
  const { immediateSupply, lossOfCancellation } = consent;
  const intro = handingWords[language].agreed(momentText(immediateSupply.at, language));
  return { intro, words: [immediateSupply.words, lossOfCancellation.words] };
}

/** A line break in a subject or a name would begin another header. */
const oneLine = (text: string): string => text.replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ').trim();
const isAddress = (contact: string | null): contact is string =>
  contact !== null && /^[^\s@<>",;]+@[^\s@<>",;]+$/.test(contact);
