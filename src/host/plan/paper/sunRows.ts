/** One row a spot: threads that are thin where the light is behind the lens and thick against it, and one's way over them. */
import { HOURS_FROM_PX, type HourScale, INNER_PX } from '../../../core/plan/sheet/paper.js';
import { crossings, placedWords, threadShapes } from '../../../core/plan/sheet/sunRowShapes.js';
import type { RunSheet, SheetStand, SheetSun } from '../../../core/plan/sheet/types.js';
import { clockOf } from '../../../core/plan/sheet/words.js';
import type { WallMs } from '../../../core/units.js';
import { INK, INK_3, type Pen, type Point, RULE, WHITE } from './pen.js';

const ROW_PX = 22;
/** Four in print: five run together under a cheap printer's ink. */
const SIZE = { rowPx: ROW_PX, threads: 4 } as const;
const MOST_ROWS = 10;

/** Of more spots than fit, those that are stood at. */
export function sunRowsShown({ sun, stands }: RunSheet): readonly SheetSun[] {
  if (sun.length <= MOST_ROWS) return sun;
  const stood = new Set(stands.map(({ spot }) => spot.id));
  return sun.filter(({ spot }) => stood.has(spot.id)).slice(0, MOST_ROWS);
}

export const sunRowsHeight = (sheet: RunSheet): number =>
  sunRowsShown(sheet).length === 0 ? 0 : sunRowsShown(sheet).length * ROW_PX + 18;

export function drawSunRows(pen: Pen, sheet: RunSheet, scale: HourScale, top: number): void {
  const rows = sunRowsShown(sheet);
  const taken = [...sheet.stands, ...crossings(rows, sheet.stands)];
  for (const [i, row] of rows.entries()) {
    const y = top + i * ROW_PX;
    pen.line(
      [
        [0, y],
        [INNER_PX, y],
      ],
      { ink: RULE },
    );
    drawName(pen, row, y);
    for (const thread of row.threads) drawThreads(pen, thread, scale, y);
    for (const at of row.changes) drawChange(pen, scale.x(at), at, scale, y);
    drawWords(pen, row, taken, scale, y);
  }
  const bottom = top + rows.length * ROW_PX;
  if (rows.length === 0) return;
  pen.line(
    [
      [0, bottom],
      [INNER_PX, bottom],
    ],
    { ink: RULE },
  );
  drawPath(pen, rows, sheet.stands, scale, top);
  drawHighSun(pen, rows[0]!, scale, bottom + 12);
}

function drawName(pen: Pen, { spot, viewAzimuthDeg }: SheetSun, y: number): void {
  const number = `${spot.number} `;
  const width = pen.widthOf(number, { face: 'strong', size: 13 });
  pen.text(number, 0, y + 15.5, { face: 'strong', size: 13 });
  pen.text(spot.name, width, y + 15.5, { size: 13, within: 62 - width });
  if (viewAzimuthDeg === null) return;
  // The dot is the lens; north is up.
  const [east, north] = [Math.sin((viewAzimuthDeg * Math.PI) / 180), Math.cos((viewAzimuthDeg * Math.PI) / 180)];
  const [x, middle] = [72, y + 11];
  pen.line(
    [
      [x - east * 7, middle + north * 7],
      [x + east * 7, middle - north * 7],
    ],
    { width: 1.3 },
  );
  pen.disc(x - east * 7, middle + north * 7, 2.2, { fill: INK });
}

function drawThreads(pen: Pen, thread: SheetSun['threads'][number], scale: HourScale, y: number): void {
  for (const shape of threadShapes(thread, scale, y, SIZE)) pen.shape(shape, { fill: INK });
}

function drawChange(pen: Pen, x: number, at: WallMs, scale: HourScale, y: number): void {
  if (at > scale.from && at < scale.to)
    pen.line(
      [
        [x, y + 2],
        [x, y + ROW_PX - 2],
      ],
      { dash: [1.5, 2] },
    );
}

function drawWords(pen: Pen, row: SheetSun, stands: readonly SheetStand[], scale: HourScale, y: number): void {
  for (const { word, width, middle } of placedWords(row, stands, scale, (one) => pen.widthOf(one, { size: 12 }))) {
    pen.box(middle - width / 2, y + 3, width, ROW_PX - 6, { fill: WHITE });
    pen.text(word, middle, y + 15.2, { size: 12, align: 'middle' });
  }
}

/** Done is filled, to come is open. */
function drawPath(
  pen: Pen,
  rows: readonly SheetSun[],
  stands: readonly SheetStand[],
  scale: HourScale,
  top: number,
): void {
  const middleOf = ({ spot }: SheetStand): number | null => {
    const i = rows.findIndex((row) => row.spot.id === spot.id);
    return i === -1 ? null : top + (i + 0.5) * ROW_PX;
  };
  for (const [i, stand] of stands.entries()) {
    const [y, next] = [middleOf(stand), stands[i + 1]];
    const nextY = next === undefined ? null : middleOf(next);
    if (y === null || next === undefined || nextY === null) continue;
    const ends: readonly Point[] = [
      [scale.x(stand.to), y],
      [scale.x(next.from), nextY],
    ];
    pen.line(ends, { ink: WHITE, width: 6 });
    pen.line(ends, { width: 1.4 });
  }
  for (const stand of stands) {
    const y = middleOf(stand);
    if (y === null) continue;
    const [x, width] = [scale.x(stand.from), scale.x(stand.to) - scale.x(stand.from)];
    pen.box(x, y - 6, width, 12, { fill: WHITE });
    pen.box(x, y - 3.5, width, 7, { fill: stand.isDone ? INK : WHITE, ink: INK, width: 1.5 });
  }
}

function drawHighSun(pen: Pen, { threads }: SheetSun, scale: HourScale, baseline: number): void {
  const whole = threads.filter(({ kind }) => kind === 'whole').flatMap(({ points }) => points);
  const [first, last] = [whole[0], whole.at(-1)];
  if (first === undefined || last === undefined || !threads.some(({ kind }) => kind === 'broken')) return;
  pen.text(
    `sun above 12° ${clockOf(first.at)} to ${clockOf(last.at)}; thin threads are lit, thick ones against the light`,
    HOURS_FROM_PX,
    baseline,
    {
      size: 12,
      ink: INK_3,
      within: scale.x(scale.to) - HOURS_FROM_PX,
    },
  );
}
