/** A QR code (ISO/IEC 18004) as one path of unit squares, with the white edge that readers want left around it. */
import { encode } from 'uqr';

const QUIET_MODULES = 4;

export interface QrPath {
  readonly path: string;
  /** Modules across with the white edge. */
  readonly size: number;
}

/** Dark modules side by side, in modules from the corner of the white edge. */
export interface QrRuns {
  readonly runs: readonly { readonly x: number; readonly y: number; readonly length: number }[];
  readonly size: number;
}

/** Null where the text is too long for any code. */
export function qrPath(text: string, level: 'L' | 'M' | 'Q'): QrPath | null {
  const qr = qrRuns(text, level);
  if (qr === null) return null;
  return { path: qr.runs.map(({ x, y, length }) => `M${x} ${y}h${length}v1h-${length}z`).join(''), size: qr.size };
}

export function qrRuns(text: string, level: 'L' | 'M' | 'Q'): QrRuns | null {
  const rows = rowsOf(text, level);
  if (rows === null) return null;
  const runs = rows.flatMap((row, y) =>
    runsOf(row).map(([x, length]) => ({ x: x + QUIET_MODULES, y: y + QUIET_MODULES, length })),
  );
  return { runs, size: rows.length + 2 * QUIET_MODULES };
}

function rowsOf(text: string, level: 'L' | 'M' | 'Q'): boolean[][] | null {
  try {
    return encode(text, { ecc: level, border: 0 }).data;
  } catch {
    return null;
  }
}

/** Dark modules side by side are one piece: no hair lines between them in print. */
function runsOf(row: readonly boolean[]): readonly (readonly [from: number, length: number])[] {
  const runs: [number, number][] = [];
  row.forEach((isDark, x) => {
    const last = runs.at(-1);
    if (!isDark) return;
    if (last !== undefined && last[0] + last[1] === x) last[1] += 1;
    else runs.push([x, 1]);
  });
  return runs;
}
