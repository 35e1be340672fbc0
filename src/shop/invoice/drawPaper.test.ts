/** Papers as they are drawn, read back by poppler's pdftotext. Rule OR22 of docs/rules/orders.md. */

import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect } from 'vitest';
import { type FactKey, minorOf, type OrderId, type Paper, totalsOf } from '../../core/handover/orders/index.js';
import { epochMsOf } from '../../core/units.js';
import { itWith } from '../../host/bringin/testing/oracles.js';
import { drawPaper } from './drawPaper.js';

const folder = mkdtempSync(join(tmpdir(), 'tyrewall-paper-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const minor = (value: number) => minorOf(value, 'test');
const line = (name: string, price: number, taxRate: number, quantity = 1) =>
  ({
    product: 'one',
    asked: { kind: quantity > 1 ? 'print' : 'picture', picture: '0'.repeat(32) },
    quantity,
    name,
    unitPrice: minor(price),
    taxRate,
    licence: 'personal',
    longEdgePx: null,
    pictures: [],
  }) as const;
function paper(
  lines: readonly ReturnType<typeof line>[],
  change: Partial<Paper['body']> = {},
  kind: Paper['kind'] = 'invoice',
): Paper {
  return {
    series: 'T2026',
    number: 7,
    kind,
    order: '1'.repeat(32) as OrderId,
    key: 'k' as FactKey,
    at: epochMsOf(Date.UTC(2026, 8, 20, 18)),
    body: {
      title: 'Open day at Fallow Ring',
      seller: { name: 'Trackside Pictures', contact: 'hello@example.org', lines: ['1 Paddock Lane', 'Tax no. 000'] },
      buyer: { name: 'Someone <b>', address: '2 Pit Road\nFallow' },
      lines,
      totals: totalsOf(lines, { currency: 'EUR', includesTax: true }),
      includesTax: true,
      way: 'cash',
      reference: 'tin',
      of: null,
      language: 'en',
      ...change,
    },
  };
}

async function read(what: Paper): Promise<{ text: string; pages: number }> {
  const file = join(folder, `${Math.random()}.pdf`);
  writeFileSync(file, await drawPaper(what));
  const text = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
  return { text: text.replace(/[ \u00a0]+/g, ' '), pages: text.split('\f').length - 1 };
}

describe('papers', () => {
  itWith('pdftotext', 'an invoice says who, what, each rate of tax, and that it is paid', async () => {
    const { text } = await read(paper([line('Your whole day', 4500, 1900), line('Print', 1500, 700, 2)]));
    for (const words of [
      'Number T2026-7',
      '20 September 2026',
      'Reference 7H70-35VH',
      'Someone <b>',
      '2 Pit Road',
      'Tax no. 000',
      'Your whole day, for your own use 1 €45.00 €45.00',
      'Print 2 €15.00 €30.00',
      'Sum €75.00',
      '19% €37.82 €7.18 €45.00',
      '7% €28.04 €1.96 €30.00',
      'Paid: Cash at the van, tin',
    ])
      expect(text).toContain(words);
  });

  itWith('pdftotext', 'what was paid in parts is said part by part', async () => {
    const payments = [
      { amount: minor(5000), way: 'prepaid', reference: 'B-17' },
      { amount: minor(2500), way: 'cash', reference: '' },
    ] as const;
    const { text } = await read(paper([line('Your whole day', 7500, 1900)], { payments }));
    expect(text).toContain('Paid: €50.00, Paid before, B-17');
    expect(text).toContain('Paid: €25.00, Cash at the van');
  });

  itWith('pdftotext', 'a credit note names its invoice and takes off', async () => {
    const of = { series: 'T2026', number: 3 };
    const { text } = await read(
      paper(
        [],
        { totals: totalsOf([line('', 4500, 1900)], { currency: 'EUR', includesTax: true }), of },
        'credit-note',
      ),
    );
    expect(text).toContain('To invoice T2026-3');
    expect(text).toContain('Sum -€45.00');
    expect(text).toContain('19% -€37.82 -€7.18 -€45.00');
    expect(text).not.toContain('Paid');
  });

  itWith('pdftotext', 'is the same bytes whenever it is asked for, in as many pages as it needs', async () => {
    const long = paper(
      Array.from({ length: 90 }, (_, n) => line(`Print ${n} ${'of a very long name '.repeat(4)}`, 1500, 700)),
    );
    expect(Buffer.from(await drawPaper(long)).equals(Buffer.from(await drawPaper(long)))).toBe(true);
    const { text, pages } = await read(long);
    expect(pages).toBeGreaterThan(2);
    for (let n = 0; n < 90; n++) expect(text).toContain(`Print ${n} of`);
  });

  itWith(
    'pdftotext',
    'speaks the buyer’s language with every letter; of others it says what it could not draw',
    async () => {
      for (const [language, words] of [
        ['de', 'Rechnung und Quittung'],
        ['fr', 'Facture et reçu'],
        ['it', 'Fattura e ricevuta'],
        ['es', 'Factura y recibo'],
        ['ar', 'Invoice and receipt'],
      ] as const) {
        const { text } = await read(paper([line('Großes Bild à Fallow', 123_450, 1900)], { language }));
        expect(text).toContain(words);
        expect(text).toContain('Großes Bild à Fallow');
        expect(text).not.toContain('?');
      }
      const { text } = await read(paper([line('One', 1, 0)], { buyer: { name: 'متسابق', address: null } }));
      expect(text).toContain('question marks');
    },
  );
});
