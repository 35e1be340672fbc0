/**
 * A table file → rows of cells, as text. Told apart by content, not by name: an XLSX file is a ZIP archive (ECMA-376 part 2),
 * all else is text with separators (RFC 4180), UTF-8 or, where that is not well formed, Windows-1252 as old spreadsheets write.
 */
import Papa from 'papaparse';
import readSheets from 'read-excel-file/node';
import { type Row, rowsOf } from '../../../core/plan/timetable/index.js';
import { TableError } from './tableError.js';

export interface Table {
  readonly rows: readonly Row[];
  /** Of the sheet read, where the file has several; null otherwise. */
  readonly sheet: string | null;
  readonly otherSheets: readonly string[];
}

/** No organiser's list comes near; a file dropped by mistake may. */
const MOST_BYTES = 8 * 1024 * 1024;

export async function readTable(name: string, bytes: Uint8Array): Promise<Table> {
  if (bytes.length > MOST_BYTES)
    throw new TableError(
      `Expected a table of at most 8 MB but ${name} has ${Math.round(bytes.length / 1e6)} MB. Drop the organiser’s list itself.`,
      name,
    );
  if (isZip(bytes)) return readSheet(name, bytes);
  if (isOldSpreadsheet(bytes))
    throw new TableError(
      `Expected XLSX or CSV but ${name} is of the older XLS kind. Save it as XLSX or CSV in the spreadsheet program, or copy its cells and paste them.`,
      name,
    );
  const text = decoded(bytes);
  if (text.includes('\u0000'))
    throw new TableError(
      `Expected XLSX, CSV or text but ${name} is none of these. Copy the lines out of it and paste them.`,
      name,
    );
  // Empty lines are kept, so that a line's number is the one an editor shows.
  const { data } = Papa.parse<string[]>(text, { skipEmptyLines: false, delimitersToGuess: ['\t', ';', ',', '|'] });
  return { rows: rowsOf(data), sheet: null, otherSheets: [] };
}

const isZip = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b;
/** Compound file binary ([MS-CFB] 2.2). */
const isOldSpreadsheet = (bytes: Uint8Array): boolean => bytes[0] === 0xd0 && bytes[1] === 0xcf && bytes[2] === 0x11;

function decoded(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

async function readSheet(name: string, bytes: Uint8Array): Promise<Table> {
  const read = await readSheets(Buffer.from(bytes)).catch((cause: unknown) => {
    throw new TableError(
      `Expected an XLSX file but ${name} could not be read as one: ${(cause as Error).message}. Save it anew, or copy its cells and paste them.`,
      name,
      { cause },
    );
  });
  // The reader's own types say the class of dates where its answer holds dates.
  const sheets = read as unknown as readonly {
    readonly sheet: string;
    readonly data: readonly (readonly CellValue[])[];
  }[];
  const filled = sheets.filter(({ data }) => data.length > 0);
  const first = filled[0];
  if (!first)
    throw new TableError(`Expected a list in ${name} but its sheets are empty. Look whether it was saved.`, name);
  return {
    rows: rowsOf(first.data.map((row) => row.map(textOfCell))),
    sheet: filled.length > 1 ? first.sheet : null,
    otherSheets: filled.slice(1).map(({ sheet }) => sheet),
  };
}

type CellValue = string | number | boolean | Date | null;

/** A time of day alone lies on the day spreadsheets count from; a day alone has no hour. Both are read as if in UTC. */
function textOfCell(value: CellValue): string {
  if (value === null) return '';
  if (!(value instanceof Date)) return String(value);
  const [day, time] = [value.toISOString().slice(0, 10), clockOf(value)];
  if (value.getUTCFullYear() < 1901) return time;
  return time === '00:00' ? day : `${day} ${time}`;
}

/** To the nearest minute: fractions of a day fall a millisecond short. */
const clockOf = (value: Date): string =>
  new Date(Math.round(value.getTime() / 60_000) * 60_000).toISOString().slice(11, 16);
