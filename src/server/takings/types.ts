/** What the sheet of takings shows. Money is told in words; amounts in units of the currency are for lengths alone. */
export interface TakingsBarView {
  readonly label: string;
  readonly amount: number;
  readonly text: string;
  /** Of how many orders, what went back, what a minute brought. */
  readonly note: string;
  readonly isKnown: boolean;
}

export interface TakingsChartView {
  readonly title: string;
  readonly aside: string | null;
  readonly bars: readonly TakingsBarView[];
}

export interface CurrencyTakingsView {
  readonly currency: string;
  /** From what came down to what is left. */
  readonly sums: readonly { readonly words: string; readonly amount: string; readonly isLeft: boolean }[];
  readonly charts: readonly TakingsChartView[];
}

export interface TakingsView {
  readonly asOf: number;
  readonly headline: string;
  readonly lead: string;
  /** Money that is in no table, and why. */
  readonly apart: readonly string[];
  readonly currencies: readonly CurrencyTakingsView[];
}
