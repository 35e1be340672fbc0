/** Tables of organisers at the desk: a dropped file becomes lines that can be mended; an entry list's names go to `people/`. */
import type { Hono } from 'hono';
import { v4 as uuidv4 } from 'uuid';
import { z } from 'zod';
import type { GestureId } from '../core/ids.js';
import { readEntries, rowsOfText } from '../core/plan/timetable/index.js';
import type { Day } from '../host/day/types.js';
import type { People } from '../host/meeting/people.js';
import { readTable, type Table, TableError, takeEntries } from '../host/plan/tables/index.js';
import { DeskError } from './DeskError.js';
import { firstTrouble, uuid } from './decisionSchema.js';
import type { TableView } from './types.js';

const entriesRequest = z.strictObject({ gesture: uuid, text: z.string().min(1).max(1_000_000) });

export function addTables(
  app: Hono,
  day: Day,
  people: Pick<People, 'all' | 'write' | 'isErased'>,
  said: (gesture: GestureId) => void,
): void {
  app.post('/api/table', async (context) => {
    const name = decodeURIComponent(context.req.header('x-file-name') ?? 'the file');
    const bytes = new Uint8Array(await context.req.arrayBuffer());
    const table = await readTable(name, bytes).catch((error: unknown) => {
      throw error instanceof TableError ? new DeskError(400, error.message, { cause: error }) : error;
    });
    return context.json(tableView(table));
  });
  app.post('/api/entries', async (context) => {
    const parsed = entriesRequest.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success)
      throw new DeskError(400, `Expected the lines of an entry list. ${firstTrouble(parsed.error)}.`);
    const { entries } = readEntries(rowsOfText(parsed.data.text), { event: day.state().about.name });
    if (entries.length === 0)
      throw new DeskError(
        400,
        'Expected at least one line with a number, but none was read. Mend the lines and say them again.',
      );
    const gesture = parsed.data.gesture as GestureId;
    await day.decide(gesture, [await takeEntries(entries, people, uuidv4)]);
    said(gesture);
    return context.json({ asOf: day.state().asOf, gesture });
  });
}

/** Cells apart by tabs, rows at the lines they had. */
function tableView({ rows, sheet, otherSheets }: Table): TableView {
  const lines: string[] = [];
  for (const { at, cells } of rows)
    lines[at - 1] = cells
      .map((cell) => cell.replace(/\s+/g, ' '))
      .join('\t')
      .trimEnd();
  const note = sheet === null ? null : `The sheet ${sheet} was read; ${otherSheets.join(', ')} was not.`;
  return { text: Array.from(lines, (line) => line ?? '').join('\n'), note };
}
