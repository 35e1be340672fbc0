/**
 * Rows of an entry list → entries with event + class + number as their key. Numbers are kept as written, without signs about
 * them: 07 and 7 are two, for some classes enter both; that they look alike is said. Names leave here beside the entries, never
 * inside them: they belong in `people/`.
 */
import { type Columns, cellAt, columnsInWords, columnsOf } from './columns.js';
import type { Row } from './rows.js';
import type { EntriesPreview, EntryLine, EntryRow } from './types.js';
import { ENTRY_COLUMNS, type EntryColumn, plain, saysNo } from './words.js';

/** Of lists that name no event or class, the one these lines belong to; empty: none. */
export interface ReadEntriesOptions {
  readonly event: string;
  readonly class?: string;
}

const NUMBER = /^(?:#|no\.?|nr\.?|n[°º])?\s*(\d{1,4}\p{L}?)$/iu;

export function readEntries(rows: readonly Row[], options: ReadEntriesOptions): EntriesPreview {
  let columns: Columns<EntryColumn> | null = null;
  const read: EntryRow[] = [];
  const left: { at: number; text: string; sentence: string }[] = [];
  let group = options.class ?? '';
  for (const row of rows) {
    const text = row.cells.filter((cell) => cell !== '').join(' ');
    const named = columnsOf(row, ENTRY_COLUMNS);
    if (named) {
      columns = named;
      left.push({ at: row.at, text, sentence: columnsInWords(row, named) });
      continue;
    }
    const entry = columns === null ? entryOfWords(row, options, group) : entryOfColumns(row, columns, options, group);
    if (typeof entry !== 'string') read.push(entry);
    else if (!/\d/.test(text) && row.cells.filter((cell) => cell !== '').length === 1) {
      group = text;
      left.push({ at: row.at, text, sentence: 'The class of the lines below.' });
    } else left.push({ at: row.at, text, sentence: `Line ${row.at}, “${text}”: ${entry}.` });
  }
  return { ...withoutClashes(read), left, rows: read };
}

function entryOfColumns(
  row: Row,
  columns: Columns<EntryColumn>,
  options: ReadEntriesOptions,
  above: string,
): EntryRow | string {
  const at = (column: EntryColumn) => cellAt(row, columns, column);
  const number = NUMBER.exec(at('number'))?.[1];
  if (number === undefined)
    return at('number') === ''
      ? 'expected a number, but it has none'
      : `expected a number of one to four figures, but got “${at('number')}”`;
  const name = at('name') || `${at('first')} ${at('last')}`.trim();
  return {
    at: row.at,
    event: at('event') || options.event,
    class: at('class') || above,
    number: number.toUpperCase(),
    ...filled({ name, contact: at('contact'), wants: bookedOf(at('booked'), at('wants')) }),
  };
}

/** What was booked, in their words; empty where either column says no. */
const bookedOf = (booked: string, wants: string): string =>
  [booked, wants].some((cell) => cell !== '' && saysNo(cell)) ? '' : wants || booked;

/** `27 Superstock` or `Superstock 27`: without names of columns one number, and all words are the class. */
function entryOfWords({ at, cells }: Row, options: ReadEntriesOptions, above: string): EntryRow | string {
  const filledCells = cells.filter((cell) => cell !== '');
  const numbers = filledCells.filter((cell) => NUMBER.test(cell));
  if (numbers.length !== 1) return 'expected one number in a cell of its own, or a line above that names the columns';
  const words = filledCells.filter((cell) => !NUMBER.test(cell));
  if (words.length > 1) return 'expected a line above that names the columns, for its words may be a class or a name';
  const number = NUMBER.exec(numbers[0]!)![1]!.toUpperCase();
  return { at, event: options.event, class: words[0] ?? above, number };
}

const filled = (words: { readonly name: string; readonly contact: string; readonly wants: string }) =>
  Object.fromEntries(Object.entries(words).filter(([, word]) => word !== '')) as Partial<typeof words>;

const keyOf = (row: Pick<EntryRow, 'event' | 'class' | 'number'>): string =>
  JSON.stringify([plain(row.event), plain(row.class), row.number]);
const whereOf = (row: Pick<EntryRow, 'class' | 'number'>): string =>
  row.class === '' ? `number ${row.number}` : `number ${row.number} in ${row.class}`;

/** The same key twice with one name is a repeat, taken once; with two names nobody's until the list is mended. */
function withoutClashes(read: readonly EntryRow[]): Pick<EntriesPreview, 'entries' | 'troubles' | 'sameRider'> {
  const byKey = new Map<string, EntryRow[]>();
  for (const row of read) byKey.set(keyOf(row), [...(byKey.get(keyOf(row)) ?? []), row]);
  const troubles: string[] = [];
  const entries = [...byKey.values()].map((rows): EntryRow => {
    const first = rows[0]!;
    if (rows.length === 1) return first;
    const lines = listed(rows.map(({ at }) => String(at)));
    const names = new Set(rows.map(({ name }) => plain(name ?? '')));
    const wants = [...new Set(rows.flatMap((row) => row.wants ?? []))].join('; ');
    const { name, contact: _contact, wants: _wants, ...bare } = first;
    if (names.size === 1) {
      troubles.push(`Lines ${lines} are the same: ${whereOf(first)} is taken once.`);
      const contact = rows.find((row) => row.contact !== undefined)?.contact ?? '';
      return { ...bare, ...filled({ name: name ?? '', contact, wants }) };
    }
    troubles.push(
      `Lines ${lines} are ${names.size === 2 ? 'two' : names.size} riders under ${whereOf(first)}. It is taken without a name until the list is mended${bookingSaid(rows)}.`,
    );
    return { ...bare, ...filled({ name: '', contact: '', wants }) };
  });
  return { entries, troubles: [...troubles, ...lookAlikes(entries)], sameRider: inSeveralClasses(entries) };
}

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** Whose it is nobody knows, but that this number was booked is not lost: somebody pays for it. */
function bookingSaid(rows: readonly EntryRow[]): string {
  const at = rows.filter(({ wants }) => wants !== undefined).map((row) => String(row.at));
  if (at.length === 0) return '';
  return `; what ${at.length === 1 ? 'line' : 'lines'} ${listed(at)} booked stays with the number`;
}

function lookAlikes(entries: readonly EntryRow[]): readonly string[] {
  return entries.flatMap((entry) => {
    const short = entry.number.replace(/^0+(?=\d)/, '');
    if (short === entry.number) return [];
    const other = entries.find(
      (one) => one.number === short && keyOf({ ...one, number: '' }) === keyOf({ ...entry, number: '' }),
    );
    return other
      ? [`${entry.number} and ${short} are both entered${entry.class === '' ? '' : ` in ${entry.class}`}: kept as two.`]
      : [];
  });
}

/** One name under several classes is one rider, unless two contacts say otherwise. */
function inSeveralClasses(entries: readonly EntryRow[]): readonly string[] {
  const byRider = new Map<string, EntryRow[]>();
  for (const entry of entries)
    if (entry.name !== undefined) byRider.set(riderKeyOf(entry), [...(byRider.get(riderKeyOf(entry)) ?? []), entry]);
  return [...byRider.values()]
    .filter((rows) => rows.length > 1)
    .map((rows) => `Lines ${listed(rows.map(({ at }) => String(at)))} are one rider: ${listed(rows.map(whereOf))}.`);
}

/** Whoever has this key twice is one person. */
export const riderKeyOf = ({ name, contact }: Pick<EntryRow, 'name' | 'contact'>): string =>
  JSON.stringify([plain(name ?? ''), plain(contact ?? '')]);

/** Every number once, for reading plates. */
export const entryNumbersOf = (entries: readonly Pick<EntryLine, 'number'>[]): readonly string[] => [
  ...new Set(entries.map(({ number }) => number)),
];

/** `27, Superstock`: what a screen says of an entry; its name stands elsewhere. */
export const entryWords = (entry: Pick<EntryLine, 'class' | 'number'>): string =>
  entry.class === '' ? entry.number : `${entry.number}, ${entry.class}`;
