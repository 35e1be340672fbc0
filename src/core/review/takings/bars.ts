/** Rows of a chart: the largest first, what is not known last and named as that. Rule OG28. */
import { minorDigits, moneyText } from '../../handover/orders/index.js';
import type { CurrencyCode } from '../../handover/orders/types.js';
import type { TakingsRow } from './types.js';

export interface TakingsBar<Row extends TakingsRow> {
  readonly row: Row;
  readonly label: string;
  /** In units of the currency, for the length alone; what is read is `text`. */
  readonly amount: number;
  readonly text: string;
  readonly isKnown: boolean;
}

export function takingsBars<Row extends TakingsRow>(
  rows: readonly Row[],
  currency: CurrencyCode,
  { nameOf = (of: string) => of, language = 'en' } = {},
): readonly TakingsBar<Row>[] {
  const unit = 10 ** minorDigits(currency);
  return rows
    .map((row) => ({
      row,
      label: row.of === null ? 'not known' : nameOf(row.of),
      amount: row.gross / unit,
      text: moneyText(row.gross, currency, language),
      isKnown: row.of !== null,
    }))
    .sort((a, b) => Number(b.isKnown) - Number(a.isKnown) || b.amount - a.amount);
}
