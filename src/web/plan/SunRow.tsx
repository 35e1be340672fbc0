/** One spot's light through the day: threads, where front, side and back change, and words where there is room. */
import { useMemo } from 'react';
import {
  placedWords,
  type RowScale,
  type RowSize,
  type ShapePoint,
  threadShapes,
} from '../../core/plan/sheet/sunRowShapes.js';
import type { SheetStand, SheetSun } from '../../core/plan/sheet/types.js';

/** Archivo at 12 px and its narrow width: measured, about 5.6 px a letter. */
const widthOf = (word: string): number => word.length * 5.8;

interface SunRowProps {
  readonly row: SheetSun;
  /** One's own stands and ways, where no word stands. */
  readonly taken: readonly SheetStand[];
  readonly scale: RowScale;
  readonly top: number;
  readonly width: number;
  readonly size: RowSize;
}

export function SunRow({ row, taken, scale, top, width, size }: SunRowProps) {
  const { rowPx } = size;
  const threads = useMemo(
    () =>
      row.threads
        .flatMap((thread) => threadShapes(thread, scale, top, size))
        .map(pathOf)
        .join(''),
    [row.threads, scale, top, size],
  );
  return (
    <>
      <path className="row-rule" d={`M0 ${top}H${width}`} />
      <path className="threads" d={threads} />
      {row.changes
        .filter((at) => at > scale.from && at < scale.to)
        .map((at) => (
          <path key={at} className="turn" d={`M${scale.x(at)} ${top + 2}V${top + rowPx - 2}`} />
        ))}
      {placedWords(row, taken, scale, widthOf).map(({ word, width: wide, middle }) => (
        <g key={`${word} ${middle}`}>
          <rect className="row-paper" x={middle - wide / 2} y={top + 4} width={wide} height={rowPx - 8} />
          <text x={middle} y={top + rowPx / 2 + 4} textAnchor="middle">
            {word}
          </text>
        </g>
      ))}
    </>
  );
}

const pathOf = (shape: readonly ShapePoint[]): string =>
  `M${shape.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(2)}`).join('L')}z`;
