/** Hours, sessions in their group's tint, and the band of spots: the day from left to right. */
import { HOURS_FROM_PX, type HourScale, INNER_PX } from '../../../core/plan/sheet/paper.js';
import type { RunSheet, SheetStand } from '../../../core/plan/sheet/types.js';
import { clockOf, DAY_MS, MINUTE_MS } from '../../../core/plan/sheet/words.js';
import { type WallMs, wallMsOf } from '../../../core/units.js';
import { drawChip } from './chip.js';
import { EDGE, INK, INK_2, INK_3, type Pen, RED, RULE, WHITE } from './pen.js';
import { type Tint, tintOf } from './tints.js';

export const DAY_LINE_PX = 62;
const SESSIONS_Y = 24;
const BAND_Y = 45;
/** Narrower than this a session has no room for its number. */
const NAME_FROM_PX = 14;

export type TintOf = (group: string) => Tint;

export function tintsOf(sheet: RunSheet): TintOf {
  const tints = new Map(sheet.groups.map(({ key, tone }) => [key, tintOf(tone)]));
  return (group) => tints.get(group) ?? { fill: WHITE, letter: INK };
}

export function drawDayLine(pen: Pen, sheet: RunSheet, scale: HourScale, top: number): void {
  for (let at: number = scale.from; at <= scale.to; at += 60 * MINUTE_MS) drawHour(pen, scale, wallMsOf(at), top);
  pen.line(
    [
      [HOURS_FROM_PX, top + SESSIONS_Y - 2],
      [INNER_PX, top + SESSIONS_Y - 2],
    ],
    { ink: EDGE },
  );
  drawSessions(pen, sheet, scale, top + SESSIONS_Y);
  for (const [i, stand] of sheet.stands.entries()) {
    const next = sheet.stands[i + 1];
    drawStand(pen, stand, scale, top + BAND_Y);
    if (next !== undefined) {
      const ends = [
        [scale.x(stand.to), top + BAND_Y + 1],
        [scale.x(next.from), top + BAND_Y + 11],
      ] as const;
      pen.line(ends, stand.isDone && next.isDone ? { ink: INK } : { ink: EDGE, dash: [2, 2] });
    }
  }
}

function drawHour(pen: Pen, scale: HourScale, at: WallMs, top: number): void {
  const x = scale.x(at);
  pen.line(
    [
      [x, top],
      [x, top + 12],
    ],
    { ink: RULE },
  );
  if (at < scale.to) pen.text(clockOf(at).slice(0, 2), x + 4, top + 10, { face: 'figures', size: 12, ink: INK_3 });
}

function drawSessions(pen: Pen, sheet: RunSheet, scale: HourScale, y: number): void {
  const tints = tintsOf(sheet);
  for (const { name, group, start, end } of sheet.slots) {
    const x = scale.x(start);
    const width = Math.max(1.5, scale.x(end) - x - 1);
    if (width >= NAME_FROM_PX)
      drawChip(pen, width >= 18 ? name : group, tints(group), x, y, { width, height: 15, size: 11.5 });
    else pen.box(x, y, width, 15, { fill: tints(group).fill, ink: EDGE, width: 0.75 });
  }
}

function drawStand(pen: Pen, { spot, from, to, isDone }: SheetStand, scale: HourScale, y: number): void {
  const x = scale.x(from);
  const width = scale.x(to) - x;
  pen.box(x, y, width, 12, isDone ? { ink: INK } : { ink: EDGE, dash: [2, 2] });
  const number = String(spot.number);
  const ink = isDone ? INK : INK_2;
  if (width < 14) return;
  pen.text(number, x + 4, y + 9.8, { face: 'strong', size: 11.5, ink });
  const room = width - 12 - pen.widthOf(number, { face: 'strong', size: 11.5 });
  if (room > 16)
    pen.text(spot.name, x + 7 + pen.widthOf(number, { face: 'strong', size: 11.5 }), y + 9.8, {
      size: 11.5,
      ink,
      within: room,
    });
}

/** A plain needle through line and rows where the sheet was printed on its own day. */
export function drawNow(pen: Pen, sheet: RunSheet, scale: HourScale, top: number, bottom: number): void {
  const at = sheet.printedAt;
  if (at < scale.from || at >= scale.to || at >= sheet.day + DAY_MS) return;
  const x = scale.x(at);
  pen.line(
    [
      [x, top - 2],
      [x, bottom],
    ],
    { ink: RED, width: 1.6 },
  );
  pen.box(x + 2, top - 1, 36, 13, { fill: WHITE });
  pen.text(clockOf(at), x + 5, top + 10.5, { face: 'figures', size: 14, ink: RED });
}
