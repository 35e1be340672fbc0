/** The run sheet as a PDF of A4 pages: everything on one where it fits, else rows go on over the next. */
import { hourScale, INNER_PX, PAPER } from '../../../core/plan/sheet/paper.js';
import type { RunSheet } from '../../../core/plan/sheet/types.js';
import { clockOf, dayInWords } from '../../../core/plan/sheet/words.js';
import { DAY_LINE_PX, drawDayLine, drawNow, tintsOf } from './dayLine.js';
import { footOf } from './foot.js';
import { INK, INK_2, INK_3, type Pen, penOn, WHITE } from './pen.js';
import { COLUMNS, columnsOf, drawColumn, itemsOf, LINE_PX } from './stillToGet.js';
import { drawSunRows, sunRowsHeight } from './sunRows.js';
import { drawTableHead, rowOf, TABLE_HEAD_PX } from './table.js';

export interface RunSheetPaper {
  readonly pdf: Uint8Array;
  readonly pages: number;
  /** Letters that the fonts lack; a question mark was printed in their place. */
  readonly missing: readonly string[];
}

const FOOT_LINE_PX = 22;
const BOTTOM_PX = PAPER.heightPx - PAPER.topPx - PAPER.bottomPx - FOOT_LINE_PX;

export async function runSheetPdf(sheet: RunSheet, madeAt: Date): Promise<RunSheetPaper> {
  const pen = penOn({ title: `${sheet.title}, ${sheet.meeting}`, madeAt });
  const page = new Page(pen, sheet);
  page.drawHead();
  page.drawWarnings();
  page.drawDay();
  page.drawTable();
  page.drawStillToGet();
  page.drawFoot();
  page.drawFootLines();
  const { pages, missing } = pen;
  return { pdf: await pen.end(), pages, missing: [...missing] };
}

class Page {
  #y = 0;
  readonly #pen: Pen;
  readonly #sheet: RunSheet;

  constructor(pen: Pen, sheet: RunSheet) {
    this.#pen = pen;
    this.#sheet = sheet;
  }

  #turn(): void {
    this.#pen.newPage();
    const { title, meeting, day } = this.#sheet;
    this.#pen.text(`${title}, continued`, 0, 14, { face: 'strong', size: 15, within: 330 });
    const about = { size: 13, ink: INK_2, align: 'right', within: INNER_PX - 350 } as const;
    this.#pen.text(`${meeting}, ${dayInWords(day)}`, INNER_PX, 14, about);
    this.#y = 24;
  }

  #makeRoom(height: number): boolean {
    if (this.#y + height <= BOTTOM_PX) return false;
    this.#turn();
    return true;
  }

  drawHead(): void {
    const { title, meeting, day, printedAt, circuit } = this.#sheet;
    drawMark(this.#pen);
    const where = circuit === null || meeting.includes(circuit) ? meeting : `${meeting}, ${circuit}`;
    const when = `${dayInWords(day)}, printed ${printedWords(day, printedAt)}`;
    // A long title gives way before the day and the hour are cut: what is printed at lunch must be told from the morning's.
    const needed = INNER_PX - 57 - this.#pen.widthOf(when, { size: 13 });
    const sizes = TITLE_SIZES.map((size) => ({ face: 'figures', size, within: 480 }) as const);
    const head = sizes.find((one) => this.#pen.widthOf(title, one) <= needed) ?? sizes.at(-1)!;
    const room = INNER_PX - 57 - Math.min(head.within, this.#pen.widthOf(title, head));
    this.#pen.text(title, 37, 29, head);
    this.#pen.text(where, INNER_PX, 13, { face: 'strong', size: 13, align: 'right', within: room });
    this.#pen.text(when, INNER_PX, 30, { size: 13, align: 'right', within: room });
    this.#pen.line(
      [
        [0, 41],
        [INNER_PX, 41],
      ],
      { width: 3 },
    );
    this.#y = 50;
  }

  drawWarnings(): void {
    for (const warning of this.#sheet.warnings) {
      const lines = this.#pen.wrap(warning, INNER_PX - 16, { face: 'strong', size: 13 });
      this.#makeRoom(lines.length * 17);
      this.#pen.text('!', 2, this.#y + 13, { face: 'strong', size: 13 });
      for (const [i, line] of lines.entries())
        this.#pen.text(line, 16, this.#y + 13 + i * 17, { face: 'strong', size: 13 });
      this.#y += lines.length * 17 + 3;
    }
  }

  drawDay(): void {
    const scale = hourScale(this.#sheet);
    const rows = sunRowsHeight(this.#sheet);
    this.#makeRoom(DAY_LINE_PX + rows);
    drawDayLine(this.#pen, this.#sheet, scale, this.#y);
    drawSunRows(this.#pen, this.#sheet, scale, this.#y + DAY_LINE_PX);
    drawNow(this.#pen, this.#sheet, scale, this.#y, this.#y + DAY_LINE_PX + Math.max(0, rows - 18));
    this.#y += DAY_LINE_PX + rows + 6;
  }

  drawTable(): void {
    const tints = tintsOf(this.#sheet);
    this.#makeRoom(TABLE_HEAD_PX + 60);
    this.#tableHead();
    for (const row of this.#sheet.rows) {
      const drawn = rowOf(this.#pen, row, tints);
      if (this.#makeRoom(drawn.height)) this.#tableHead();
      drawn.draw(this.#y);
      this.#y += drawn.height;
    }
    this.#y += 12;
  }

  #tableHead(): void {
    drawTableHead(this.#pen, this.#y);
    this.#y += TABLE_HEAD_PX;
  }

  drawStillToGet(): void {
    let lists = itemsOf(this.#sheet);
    const tints = tintsOf(this.#sheet);
    let isFirst = true;
    while (lists.length > 0) {
      this.#makeRoom(30 + 4 * LINE_PX);
      this.#stillHead(isFirst);
      const lines = Math.floor((BOTTOM_PX - this.#y) / LINE_PX);
      const columns = columnsOf(lists, lines);
      const here = columns.slice(0, COLUMNS);
      for (const [i, items] of here.entries()) drawColumn(this.#pen, items, i, this.#y, tints);
      this.#y += Math.max(...here.map(({ length }) => length)) * LINE_PX + 10;
      lists = columns.slice(COLUMNS);
      isFirst = false;
      if (lists.length > 0) this.#turn();
    }
  }

  #stillHead(isFirst: boolean): void {
    const [first] = this.#sheet.wheelSpots;
    const hasWheels = this.#sheet.stillToGet.some(({ riders }) => riders.some(({ wheel }) => wheel.length > 0));
    const key =
      first !== undefined && hasWheels ? `; wheel: ${first.number} ${first.name} at the top, then clockwise` : '';
    this.#pen.line(
      [
        [0, this.#y],
        [INNER_PX, this.#y],
      ],
      { width: 2 },
    );
    this.#pen.text(isFirst ? 'Still to get' : 'Still to get, continued', 0, this.#y + 20, { face: 'strong', size: 17 });
    const look = { size: 12.5, ink: INK_2, align: 'right', within: INNER_PX - 200 } as const;
    const lean = this.#sheet.stillToGet.some(({ riders }) => riders.some(({ leanDeg }) => leanDeg !== undefined));
    this.#pen.text(`thin or not seen${key}${lean ? '; lean to expect' : ''}`, INNER_PX, this.#y + 20, look);
    this.#y += 27;
  }

  drawFoot(): void {
    const foot = footOf(this.#pen, this.#sheet);
    this.#makeRoom(foot.height);
    foot.draw(this.#y, BOTTOM_PX - this.#y);
  }

  drawFootLines(): void {
    const total = this.#pen.pages;
    const y = BOTTOM_PX + FOOT_LINE_PX - 4;
    for (let page = 0; page < total; page++) {
      this.#pen.goToPage(page);
      const look = { size: 12, ink: INK_3 } as const;
      this.#pen.text(legendOf(this.#sheet), 0, y, { ...look, within: INNER_PX - 130 });
      this.#pen.text(total > 1 ? `Tyrewall, page ${page + 1} of ${total}` : 'Tyrewall', INNER_PX, y, {
        ...look,
        align: 'right',
      });
    }
  }
}

/** On another day than its own the sheet says which. */
const TITLE_SIZES = [36, 30, 25] as const;

const printedWords = (day: RunSheet['day'], at: RunSheet['printedAt']): string =>
  dayInWords(day) === dayInWords(at) ? clockOf(at) : `${dayInWords(at).replace(/^\S+ | \d+$/g, '')}, ${clockOf(at)}`;

function legendOf({ stillToGet }: RunSheet): string {
  const hasWheels = stillToGet.some(({ riders }) => riders.some(({ wheel }) => wheel.length > 0));
  const marks = 'A dashed edge: part of a session.';
  return hasWheels ? `Wheel: filled good, slit unsure, open missed, line still to come. ${marks}` : marks;
}

/** A tyre seen from behind. */
function drawMark(pen: Pen): void {
  pen.box(1, 2, 22, 31, { fill: INK });
  for (const y of [6, 14, 22])
    for (const side of [0, 24])
      pen.line(
        [
          [side, y],
          [12 + (side - 12) / 6, y + 5],
        ],
        { ink: WHITE, width: 2 },
      );
}
