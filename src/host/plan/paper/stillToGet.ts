/** Riders still to get, each with a box to tick, in three columns that go on over as many pages as it takes. */
import { INNER_PX } from '../../../core/plan/sheet/paper.js';
import type { RunSheet, WatchLine } from '../../../core/plan/sheet/types.js';
import { drawChip } from './chip.js';
import type { TintOf } from './dayLine.js';
import { INK, INK_2, INK_3, type Pen, RULE, WHITE } from './pen.js';
import { drawWheel } from './wheel.js';

export const COLUMNS = 3;
const GAP_PX = 20;
const COLUMN_PX = (INNER_PX - (COLUMNS - 1) * GAP_PX) / COLUMNS;
export const LINE_PX = 22;

export type WatchItem =
  | { readonly kind: 'head'; readonly words: string; readonly group: string | null }
  | { readonly kind: 'rider'; readonly rider: WatchLine }
  | { readonly kind: 'wants'; readonly words: string };

export function itemsOf(sheet: RunSheet): readonly (readonly WatchItem[])[] {
  const lists = sheet.stillToGet.map(({ group, riders }) => ({
    head: { kind: 'head' as const, words: group?.name ?? 'Group not known', group: group?.key ?? null },
    riders,
  }));
  const never = { head: { kind: 'head' as const, words: 'Not seen all day', group: null }, riders: sheet.neverSeen };
  return [...lists, never]
    .filter(({ riders }) => riders.length > 0)
    .map(({ head, riders }) => [
      head,
      ...riders.flatMap((rider): readonly WatchItem[] => [
        { kind: 'rider', rider },
        ...(rider.wants === undefined ? [] : [{ kind: 'wants' as const, words: rider.wants }]),
      ]),
    ]);
}

/**
 * Which items stand in which column, `lines` high. A list that fits keeps a column of its own as long as there are columns;
 * else all flow one after another, and a heading is said again where its list goes on.
 */
export function columnsOf(lists: readonly (readonly WatchItem[])[], lines: number): readonly (readonly WatchItem[])[] {
  const tidy = packed(lists, lines);
  return tidy ?? flowed(lists, lines);
}

function packed(lists: readonly (readonly WatchItem[])[], lines: number): readonly (readonly WatchItem[])[] | null {
  const columns: WatchItem[][] = [];
  for (const list of lists) {
    if (columns.length < COLUMNS) columns.push([...list]);
    else columns.reduce((a, b) => (b.length < a.length ? b : a)).push(...list);
  }
  return columns.every(({ length }) => length <= lines) ? columns : null;
}

function flowed(lists: readonly (readonly WatchItem[])[], lines: number): readonly (readonly WatchItem[])[] {
  const total = lists.reduce((sum, list) => sum + list.length, 0);
  for (let high = Math.ceil(total / COLUMNS); high < lines; high++) {
    const columns = flowedAt(lists, high);
    if (columns.length <= COLUMNS) return columns;
  }
  return flowedAt(lists, lines);
}

/** Never a heading alone at the foot of a column. */
function flowedAt(lists: readonly (readonly WatchItem[])[], high: number): readonly (readonly WatchItem[])[] {
  const columns: WatchItem[][] = [[]];
  for (const [head, ...rest] of lists) {
    if (columns.at(-1)!.length > high - 2) columns.push([]);
    columns.at(-1)!.push(head!);
    for (const item of rest) {
      if (columns.at(-1)!.length >= high) columns.push([goesOn(head!)]);
      columns.at(-1)!.push(item);
    }
  }
  return columns;
}

const goesOn = (head: WatchItem): WatchItem =>
  head.kind === 'head' ? { ...head, words: `${head.words}, continued` } : head;

export function drawColumn(pen: Pen, items: readonly WatchItem[], column: number, top: number, tints: TintOf): void {
  const left = column * (COLUMN_PX + GAP_PX);
  for (const [i, item] of items.entries()) {
    const y = top + i * LINE_PX;
    if (item.kind === 'head') drawHead(pen, item, left, y, tints);
    else if (item.kind === 'wants')
      pen.text(`wants ${item.words}`, left + 18, y + 14, { size: 12, ink: INK_2, within: COLUMN_PX - 18 });
    else drawRider(pen, item.rider, left, y, tints);
  }
}

function drawHead(pen: Pen, item: Extract<WatchItem, { kind: 'head' }>, left: number, y: number, tints: TintOf): void {
  const shift = item.group === null ? 0 : 24;
  if (item.group !== null)
    drawChip(pen, item.group, tints(item.group), left, y + 3, { width: 18, height: 15, size: 11.5 });
  pen.text(item.words, left + shift, y + 15, { face: 'strong', size: 13.5, within: COLUMN_PX - shift });
}

/** From the right: lean, code, number; from the left: box, wheel, paint; the words have what is left. */
function drawRider(pen: Pen, rider: WatchLine, left: number, y: number, tints: TintOf): void {
  const middle = y + LINE_PX / 2;
  pen.line(
    [
      [left, y],
      [left + COLUMN_PX, y],
    ],
    { ink: RULE },
  );
  pen.box(left, middle - 6, 12, 12, { ink: INK, width: 1.2 });
  let x = left + 18;
  if (rider.isNeverSeen && rider.group !== null) {
    drawChip(pen, rider.group, tints(rider.group), x, middle - 7.5, { width: 18, height: 15, size: 11.5 });
    x += 24;
  } else if (rider.wheel.length > 0) {
    drawWheel(pen, rider.wheel, x + 10, middle);
    x += 25;
  }
  for (const paint of rider.paint.slice(0, 3)) {
    pen.box(x, middle - 5.5, 9, 11, { fill: paint, ink: INK_3, width: 0.75 });
    x += 9;
  }
  if (rider.paint.length > 0) x += 5;
  const right = drawFromRight(pen, rider, left + COLUMN_PX, middle);
  pen.text(rider.words, x, middle + 4.5, { size: 12.5, within: right - x - 4 });
}

function drawFromRight(
  pen: Pen,
  { leanDeg, code, number, isNumberGuessed = false }: WatchLine,
  edge: number,
  middle: number,
): number {
  let right = edge;
  if (leanDeg !== undefined) {
    pen.text(`${Math.round(leanDeg)}°`, right, middle + 4.5, { size: 13, align: 'right' });
    right -= 27;
  }
  if (code !== undefined) {
    pen.text(code, right, middle + 4.5, { size: 12, ink: INK_3, align: 'right', within: 34 });
    right -= 38;
  }
  if (number === undefined) return right;
  const look = { face: isNumberGuessed ? 'pencil' : 'strong', size: 12.5, within: 44 } as const;
  const shown = isNumberGuessed ? `${number}?` : number;
  const width = Math.min(44, pen.widthOf(shown, look)) + 8;
  pen.box(right - width, middle - 7.5, width, 15, {
    fill: WHITE,
    ink: INK,
    width: 1.2,
    ...(isNumberGuessed ? { dash: [1.5, 1.5] as const } : {}),
  });
  pen.text(shown, right - width / 2, middle + 4.5, { ...look, align: 'middle' });
  return right - width;
}
