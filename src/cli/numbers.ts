/** Numbers as typed after an option: `1e3`, `0x10` and an empty text are none, and whoever refuses one still has the words. */

/** Digits alone; null where the text is no whole number from `from` to `to`. */
export function wholeNumber(text: string | undefined, from: number, to: number): number | null {
  if (text === undefined || !/^\d{1,9}$/.test(text)) return null;
  const value = Number(text);
  return value >= from && value <= to ? value : null;
}

/** With a sign and a fraction where there are some; null where the text is no number. */
export const decimalNumber = (text: string | undefined): number | null =>
  text !== undefined && /^-?\d{1,9}(\.\d{1,9})?$/.test(text) ? Number(text) : null;
