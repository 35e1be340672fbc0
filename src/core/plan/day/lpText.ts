/** Rows and variables as CPLEX LP text, the format HiGHS reads. Lines are kept short: readers of the format limit them. */

export type Term = readonly [factor: number, name: string];

const TERMS_A_LINE = 12;

export class LpText {
  readonly #objective: Term[] = [];
  readonly #rows: string[] = [];
  readonly #whole: string[] = [];
  readonly #bounds: string[] = [];

  worth(factor: number, name: string): void {
    if (factor !== 0) this.#objective.push([factor, name]);
  }

  row(terms: readonly Term[], relation: '<=' | '>=' | '=', side: number): void {
    if (terms.length > 0) this.#rows.push(` r${this.#rows.length}: ${sum(terms)} ${relation} ${side}`);
  }

  between(name: string, low: number, high: number): void {
    this.#bounds.push(` ${low} <= ${name} <= ${high}`);
  }

  whole(name: string): void {
    this.#whole.push(` ${name}`);
  }

  toString(): string {
    const general = this.#whole.length > 0 ? ['General', ...this.#whole] : [];
    return [
      'Maximize',
      ` worth: ${sum(this.#objective)}`,
      'Subject To',
      ...this.#rows,
      'Bounds',
      ...this.#bounds,
      ...general,
      'End',
      '',
    ].join('\n');
  }
}

function sum(terms: readonly Term[]): string {
  const parts = terms.map(([factor, name], i) => {
    const text = `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} ${name}`;
    return i > 0 && i % TERMS_A_LINE === 0 ? `\n  ${text}` : text;
  });
  return parts.join(' ');
}
