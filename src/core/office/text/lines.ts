/** Papers and kit as lines of text, one fact a line: quick to type, to paste and to print. */
import { isDay } from '../days.js';
import type { ClockTime, Money } from '../types.js';

export type Read<T> =
  | { readonly kind: 'read'; readonly value: T }
  | { readonly kind: 'wrong'; readonly sentences: readonly string[] };

/** What one line says, or what was expected of it. */
export type LineRead<T> = { readonly said: T } | { readonly expected: string };

/** Reads every line; each one that cannot be read has its own sentence, and then nothing is taken. */
export function readLines<T>(text: string, readLine: (line: string) => LineRead<T>): Read<readonly T[]> {
  const said: T[] = [];
  const sentences: string[] = [];
  for (const [i, row] of text.split('\n').entries()) {
    const line = row.trim();
    if (line === '') continue;
    const read = readLine(line);
    if ('said' in read) said.push(read.said);
    else sentences.push(`Line ${i + 1}: expected ${read.expected} but got “${line}”.`);
  }
  return sentences.length > 0 ? { kind: 'wrong', sentences } : { kind: 'read', value: said };
}

/** What stands between semicolons. */
export const partsOf = (text: string): readonly string[] =>
  text
    .split(';')
    .map((part) => part.trim())
    .filter((part) => part !== '');

const MONEY = /^(\d{1,3}(?:[, ]\d{3})+|\d+)(\.\d{1,2})? ?([A-Z]{3})$/;

/** `5,000,000 GBP`; a currency is its three letters (ISO 4217). */
export function readMoney(text: string): Money | null {
  const found = MONEY.exec(text);
  if (!found) return null;
  return { amount: Number(`${found[1]!.replace(/[, ]/g, '')}${found[2] ?? ''}`), currency: found[3]! };
}

export function readClock(text: string): ClockTime | null {
  const found = /^(\d{1,2}):(\d{2})$/.exec(text);
  if (!found || Number(found[1]) > 23 || Number(found[2]) > 59) return null;
  return text.padStart(5, '0') as ClockTime;
}

export const readDay = (text: string): string | null => (isDay(text) ? text : null);

/** A plain number between two, or null. */
export function readNumber(text: string, from: number, to: number): number | null {
  if (!/^-?\d+(\.\d+)?$/.test(text)) return null;
  const value = Number(text);
  return value >= from && value <= to ? value : null;
}
