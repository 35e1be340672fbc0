/** The end of the sheet: map, cautions, and lines to write on. */
import { INNER_PX } from '../../../core/plan/sheet/paper.js';
import type { RunSheet } from '../../../core/plan/sheet/types.js';
import { drawMap, MAP_WIDTH_PX } from './map.js';
import { INK_2, type Pen, RULE } from './pen.js';

const FIRST = { face: 'strong', size: 13.5 } as const;
const REST = { size: 12 } as const;
const CONTACT_PX = 24;
const SMALLEST_MAP_PX = 175;
const LARGEST_MAP_PX = 230;

/** At least so high; the map takes what the page has left. */
export interface Foot {
  readonly height: number;
  draw(top: number, room: number): void;
}

export function footOf(pen: Pen, sheet: RunSheet): Foot {
  const left = sheet.map === null ? 0 : MAP_WIDTH_PX + 24;
  const cautions = sheet.cautions.map((sentence, i) => ({
    look: i === 0 ? FIRST : REST,
    lines: pen.wrap(sentence, INNER_PX - left, i === 0 ? FIRST : REST),
  }));
  const said = cautions.reduce((sum, { lines }) => sum + lines.length * 15 + 6, 0);
  const words = said + 6 + sheet.contacts.length * CONTACT_PX;
  return {
    height: Math.max(words, sheet.map === null ? 0 : SMALLEST_MAP_PX) + 8,
    draw(top, room) {
      pen.line(
        [
          [0, top],
          [INNER_PX, top],
        ],
        { width: 2 },
      );
      const height = Math.min(LARGEST_MAP_PX, room - 8);
      if (sheet.map !== null) drawMap(pen, sheet.map, sheet.stands, { left: 0, top: top + 4, height });
      let y = top + 3;
      for (const { look, lines } of cautions) {
        for (const [i, line] of lines.entries()) pen.text(line, left, y + 13 + i * 15, look);
        y += lines.length * 15 + 6;
        pen.line(
          [
            [left, y - 1],
            [INNER_PX, y - 1],
          ],
          { ink: RULE },
        );
      }
      for (const contact of sheet.contacts) {
        y += CONTACT_PX;
        pen.text(contact.label, left, y, { size: 12, ink: INK_2, within: 104 });
        if (contact.value === undefined)
          pen.line([
            [left + 110, y + 2],
            [INNER_PX, y + 2],
          ]);
        else pen.text(contact.value, left + 110, y, { face: 'strong', size: 13, within: INNER_PX - left - 110 });
      }
    },
  };
}
