import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { overlap } from '../../../core/plan/circuit/draw/placeLabels.js';
import { runSheet } from '../../../core/plan/sheet/runSheet.js';
import { at, handMadeDay, stand, watched } from '../../../core/plan/sheet/testing/handMadeDay.js';
import type { SheetInput } from '../../../core/plan/sheet/types.js';
import { itWith } from '../../bringin/testing/oracles.js';
import { minuteBoxes } from './map.js';
import { runSheetPdf } from './runSheetPdf.js';
import { COLUMNS, columnsOf, itemsOf } from './stillToGet.js';

const folder = mkdtempSync(join(tmpdir(), 'paper-'));
afterAll(() => rmSync(folder, { recursive: true }));

const MADE_AT = new Date(Date.UTC(2031, 4, 16, 20));
const paperOf = (more: Partial<SheetInput> = {}) => runSheetPdf(runSheet(handMadeDay(more)), MADE_AT);
const oracle = (program: string, pdf: Uint8Array, argsOf: (file: string) => readonly string[]): string => {
  const file = join(folder, 'sheet.pdf');
  writeFileSync(file, pdf);
  return execFileSync(program, argsOf(file), { encoding: 'utf8' });
};
const textOf = (pdf: Uint8Array) => oracle('pdftotext', pdf, (file) => ['-layout', file, '-']);
const riders = (count: number) => Array.from({ length: count }, (_, i) => watched(['N', 'I', 'F'][i % 3]!, i));

describe('the run sheet on paper', () => {
  it('PL118: the map’s minutes hide no spot and no other minutes', () => {
    const marks = [0, 100, 200, 400].map((x) => [x, 0] as const);
    const gone = [
      { a: marks[0]!, b: marks[3]!, minutes: 7 },
      { a: marks[0]!, b: marks[3]!, minutes: 21 },
    ];
    const boxes = minuteBoxes(gone, marks, (words) => 6 * words.length);
    const spots = marks.map(([x, y]) => ({ x: x - 9.4, y: y - 9.4, width: 18.8, height: 18.8 }));
    for (const [i, box] of boxes.entries())
      for (const other of [...spots, ...boxes.slice(i + 1)]) expect(overlap(box, other)).toBe(false);
  });

  itWith('pdftotext', 'PL610: says from when to when, where, which sessions and shutters, in order', async () => {
    const text = textOf((await paperOf({ from: at('13:22'), printedAt: at('13:22') })).pdf);
    expect(text).toMatch(/Run sheet, after lunch/);
    expect(text).toMatch(/Saturday 17 May 2031, printed 13:22/);
    expect(text).toMatch(
      /13:55–14:47\s+4 Strand\s+N5\s+I5\s+F5\s+front, 100 mm, side-on\s+1\/320\s+1\/125\s+Fast 1\/500/,
    );
    expect(text).toMatch(/14:47\s+drive 7 min by the tunnel, out of F5/);
    expect(text).not.toMatch(/11:07–11:58/);
    expect(text.indexOf('The circuit’s, the marshals’')).toBeLessThan(text.indexOf('Red flag'));
  });

  itWith('pdftotext', 'PL610: beside a long title day and hour of printing stand whole', async () => {
    const sheet = runSheet(handMadeDay({ from: at('13:22'), printedAt: at('13:22') }));
    const { pdf } = await runSheetPdf({ ...sheet, title: 'Run sheet, photographer 1 of 2, after lunch' }, MADE_AT);
    expect(textOf(pdf)).toMatch(/Saturday 17 May 2031, printed 13:22\n/);
  });

  itWith('pdffonts', 'PL611: every font is embedded, cut to what is used and readable as text', async () => {
    const lines = oracle('pdffonts', (await paperOf()).pdf, (file) => [file])
      .split('\n')
      .filter((line) => line.includes('Archivo'));
    expect(lines).toHaveLength(4);
    for (const line of lines) expect(line).toMatch(/yes yes yes/);
  });

  itWith('pdfinfo', 'PL611: pages are A4', async () => {
    expect(oracle('pdfinfo', (await paperOf()).pdf, (file) => [file])).toMatch(
      /Page size: +595\.28 x 841\.89 pts \(A4\)/,
    );
  });

  it.each([
    [0, 2],
    [1, 2],
    [60, 2],
    [200, 4],
  ])('PL612: with %i riders still to get it takes at most %i pages and 300 KB', async (count, most) => {
    const { pdf, pages } = await paperOf({ watch: riders(count) });
    expect(pages).toBeLessThanOrEqual(most);
    expect(pdf.length).toBeLessThan(300 * 1024);
  });

  itWith('pdftotext', 'PL612: none of 60 riders is lost over the pages, whatever the groups', async () => {
    const watch = Array.from({ length: 60 }, (_, i) => watched(i < 55 ? 'N' : 'F', i, { code: `Q-${i}` }));
    const text = textOf((await paperOf({ watch })).pdf);
    const found = text.match(/Q-\d+/g) ?? [];
    expect(new Set(found).size).toBe(60);
    expect(found).toHaveLength(60);
    expect(text).toMatch(/Novice, continued/);
  });

  itWith(
    'pdftotext',
    'PL613: long names end in an ellipsis or go on below; letters without a shape are told',
    async () => {
      const meeting = `Ropewalk ${'and Sprint Club '.repeat(9)}Łódź Řehoř 東`;
      const words = 'purple with lime stripes and rather more words than a column holds';
      const { pdf, missing } = await paperOf({ meeting, watch: [watched('N', 1, { words })] });
      const text = textOf(pdf);
      expect(text).toMatch(/Ropewalk and Sprint Club .*…/);
      expect(text).toMatch(/purple with .*…/);
      expect(missing).toEqual(['東']);
      expect(textOf((await paperOf({ meeting: 'Řehoř, Łódź' })).pdf)).toMatch(/Řehoř, Łódź/);
    },
  );

  it('PL613: nothing planned is still a sheet, with what to do', async () => {
    const { pages } = await paperOf({ source: { kind: 'stands', stands: [] }, slots: [], watch: [], sunRows: [] });
    expect(pages).toBe(1);
  });

  itWith('pdftotext', 'PL614: the table goes on over pages under its heading', async () => {
    const stands = Array.from({ length: 40 }, (_, i) => {
      const clock = (minutes: number) => `${String(8 + Math.floor(minutes / 60))}:${String(minutes % 60)}`;
      return stand((i % 6) + 1, clock(i * 14), clock(i * 14 + 8));
    });
    const { pdf, pages } = await paperOf({ source: { kind: 'stands', stands } });
    expect(pages).toBeGreaterThan(2);
    const text = textOf(pdf);
    expect(text.match(/from, to/g)!.length).toBeGreaterThan(1);
    expect(text).toMatch(/Run sheet, continued/);
    expect(text).toMatch(/page 2 of/);
  });

  it('the same sheet made at the same moment is the same file', async () => {
    expect((await paperOf()).pdf).toEqual((await paperOf()).pdf);
  });
});

describe('columns of riders', () => {
  it('PL612: keep every rider, each list under its heading, none higher than the page', () => {
    const sheet = runSheet(handMadeDay({ watch: riders(100).map((rider, i) => ({ ...rider, code: String(i) })) }));
    for (const lines of [4, 7, 20, 36, 60]) {
      const columns = columnsOf(itemsOf(sheet), lines);
      const codes = columns.flat().flatMap((item) => (item.kind === 'rider' ? [item.rider.code] : []));
      expect(new Set(codes).size).toBe(100);
      for (const column of columns) {
        expect(column.length).toBeLessThanOrEqual(lines);
        expect(column[0]!.kind).toBe('head');
        expect(column.at(-1)!.kind).not.toBe('head');
      }
    }
    expect(columnsOf(itemsOf(sheet), 60)).toHaveLength(COLUMNS);
  });
});
