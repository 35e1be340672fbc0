/**
 * An invoice or a credit note on A4, drawn from what was kept when it was numbered, so it is the same whenever it is asked for. The paper's
 * fonts have Latin letters: other languages are drawn in English, and a letter of a name that the fonts lack stands as a question mark,
 * which the foot says.
 */
import { type Minor, moneyText, type Paper, paperNumber } from '../../core/handover/orders/index.js';
import { INNER_PX, PAPER } from '../../core/plan/sheet/paper.js';
import { INK_2, type Pen, penOn, RULE, type TextLook } from '../../host/plan/paper/pen.js';
import { licenceText } from '../pages/licences.js';
import { percentText } from '../pages/money.js';
import { isLanguage, localeOf, type Words, wordsOf } from '../pages/words/index.js';
import { referenceOf } from '../service/reference.js';

const BIG = { face: 'strong', size: 30 } as const;
const STRONG = { face: 'strong', size: 14 } as const;
const PLAIN = { size: 14 } as const;
const SMALL = { size: 12.5, ink: INK_2 } as const;
const LINE_PX = 19;
const X = { count: INNER_PX - 230, each: INNER_PX - 110, sum: INNER_PX } as const;
const LAST_Y = PAPER.heightPx - PAPER.topPx - PAPER.bottomPx - 40;

export async function drawPaper(paper: Paper): Promise<Uint8Array> {
  const { body, kind, at } = paper;
  const language = isLanguage(body.language) && body.language !== 'ar' ? body.language : 'en';
  const words: Words = wordsOf[language];
  const title = kind === 'invoice' ? words.invoice : words.creditNote;
  const pen = penOn({ title: `${title} ${paperNumber(paper)}`, madeAt: new Date(at) });
  const sheet = new Sheet(pen);
  const money = (amount: Minor) => plain(moneyText(amount, body.totals.currency, language));

  sheet.text(title, BIG, 34);
  const day = new Intl.DateTimeFormat(localeOf(language), { dateStyle: 'long', timeZone: 'UTC' }).format(at);
  sheet.pair(words.invoiceNumber, paperNumber(paper));
  sheet.pair(words.date, plain(day));
  sheet.pair(words.reference, referenceOf(paper.order));
  if (body.of !== null) sheet.text(words.toInvoice(paperNumber(body.of)), PLAIN);
  sheet.gap();
  for (const line of [body.seller.name, ...body.seller.lines, body.seller.contact ?? '']) sheet.text(line, PLAIN);
  sheet.gap();
  const buyer = body.buyer === null ? [] : [body.buyer.name, ...(body.buyer.address ?? '').split(/\r?\n/)];
  if (buyer.length > 0) sheet.text(words.to, SMALL);
  for (const line of buyer) sheet.text(line, PLAIN);
  sheet.gap();
  sheet.text(body.title, STRONG);

  if (body.lines.length > 0) sheet.row([words.what, words.count, words.each, words.sum], SMALL);
  for (const line of body.lines) {
    const { name, quantity, unitPrice } = line;
    const what = [name, ...licenceText(line, language)].join(', ');
    sheet.row([what, String(quantity), money(unitPrice), money((unitPrice * quantity) as Minor)], PLAIN);
  }
  if (body.totals.off > 0) sheet.row([words.off, '', '', money((0 - body.totals.off) as Minor)], PLAIN);
  const back = kind === 'invoice' ? 1 : -1;
  const signed = (amount: Minor) => money((back * amount || 0) as Minor);
  sheet.row([words.sum, '', '', signed(body.totals.toPay)], STRONG);
  sheet.gap();
  sheet.row([words.tax, words.net, words.tax, words.gross], SMALL);
  for (const { rate, net, tax, gross } of body.totals.taxes)
    sheet.row([plain(percentText(rate, language)), signed(net), signed(tax), signed(gross)], PLAIN);
  sheet.gap();
  const how = (way: typeof body.way) => words.way[way].replace('{name}', '').replace(/[,\s]+$/, '');
  const payments = body.payments?.map((one) => [money(one.amount), how(one.way), one.reference]);
  for (const paid of kind === 'invoice' ? (payments ?? [[how(body.way), body.reference]]) : [])
    sheet.text(`${words.paidBy}: ${paid.filter(Boolean).join(', ')}`, PLAIN);
  if (pen.missing.size > 0) sheet.text('Letters this paper has no shape for stand as question marks.', SMALL);
  return pen.end();
}

/** French and others part thousands by a narrow space, which the paper's fonts lack. */
const plain = (text: string): string => text.replace(/[\u202f\u2009]/g, '\u00a0');

class Sheet {
  readonly #pen: Pen;
  #y = 0;

  constructor(pen: Pen) {
    this.#pen = pen;
  }

  #room(height: number): void {
    if (this.#y + height > LAST_Y) {
      this.#pen.newPage();
      this.#y = 0;
    }
    this.#y += height;
  }

  gap(): void {
    this.#y += LINE_PX;
  }

  text(words: string, look: TextLook, height = LINE_PX): void {
    if (words.trim() === '') return;
    for (const line of this.#pen.wrap(words, INNER_PX, look)) {
      this.#room(height);
      this.#pen.text(line, 0, this.#y, look);
    }
  }

  pair(label: string, value: string): void {
    this.#room(LINE_PX);
    this.#pen.text(label, 0, this.#y, SMALL);
    this.#pen.text(value, 130, this.#y, STRONG);
  }

  row([what, ...figures]: readonly [string, string, string, string], look: TextLook): void {
    const lines = this.#pen.wrap(what, X.count - 70, look);
    for (const [i, line] of lines.entries()) {
      this.#room(LINE_PX + (i === 0 ? 5 : 0));
      this.#pen.text(line, 0, this.#y, look);
      if (i > 0) continue;
      for (const [n, x] of [X.count, X.each, X.sum].entries())
        this.#pen.text(figures[n]!, x, this.#y, { ...look, align: 'right' });
    }
    this.#pen.line(
      [
        [0, this.#y + 6],
        [INNER_PX, this.#y + 6],
      ],
      { ink: RULE },
    );
  }
}
