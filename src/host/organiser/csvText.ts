/**
 * Tables as CSV (RFC 4180) that spreadsheet programs open as text and figures, never as formulas: a text that begins as a formula might
 * (`=`, `+`, `-`, `@`, tab, line end; OWASP, “CSV Injection”) gets an apostrophe before it. Our own figures do not. Rules OG11, OG27.
 */
import Papa from 'papaparse';
import type { Cell } from '../../core/review/takings/index.js';

/** Also behind blanks, and in the full-width forms that some programs take for the same. */
const MAY_BE_FORMULA = /^[\s\u00a0]*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;
/** Tells spreadsheet programs that the text is UTF-8. */
const BOM = '\uFEFF';

export function csvText(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const data = rows.map((row) => row.map((cell) => ('number' in cell ? cell.number : harmless(cell.text))));
  return `${BOM}${Papa.unparse({ fields: [...header], data }, { newline: '\r\n' })}\r\n`;
}

const harmless = (text: string): string => (MAY_BE_FORMULA.test(text) ? `'${text}` : text);
