/** The sun rows: one a spot, under the day line and on its hours, with one's way over them. What is spoken of is framed. */
import { type MouseEvent, useMemo } from 'react';
import type { SpotId } from '../../core/ids.js';
import { HOURS_FROM_PX, INNER_PX } from '../../core/plan/sheet/paper.js';
import {
  placedWords,
  type RowScale,
  type RowSize,
  type ShapePoint,
  threadShapes,
} from '../../core/plan/sheet/sunRowShapes.js';
import type { SheetStand, SheetSun } from '../../core/plan/sheet/types.js';
import type { PlanView } from '../../server/planTypes.js';
import type { DayLineView } from '../../server/types.js';
import { clockOf } from '../line/lineGeometry.js';
import type { Chosen } from './planChoice.js';
import { useIsPrinted } from './useIsPrinted.js';
import { useWidth } from './useWidth.js';

const ON_SCREEN = { rowPx: 28, threads: 5 } as const;
/** Five threads run together under a cheap printer's ink. */
const ON_PAPER = { rowPx: 22, threads: 4 } as const;
const BLOCKS_PX = 8;
/** Archivo at 12 px and its narrow width: measured, about 5.6 px a letter. */
const widthOf = (word: string): number => word.length * 5.8;

export interface SunRowsProps {
  readonly view: PlanView;
  readonly line: DayLineView;
  readonly stands: readonly SheetStand[];
  readonly chosen: Chosen | null;
  readonly choose: (spot: SpotId, at: number) => void;
}

export function SunRows({ view, line, stands, chosen, choose }: SunRowsProps) {
  const [frame, widthOnScreen] = useWidth(1040);
  const isPrinted = useIsPrinted();
  const width = isPrinted ? INNER_PX - HOURS_FROM_PX : widthOnScreen;
  const size = isPrinted ? ON_PAPER : ON_SCREEN;
  const { rowPx } = size;
  const scale: RowScale = useMemo(
    () => ({
      from: line.from,
      to: line.to,
      x: (at) => ((Math.min(line.to, Math.max(line.from, at)) - line.from) / (line.to - line.from)) * width,
    }),
    [line.from, line.to, width],
  );
  const press = (event: MouseEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const row = view.sun[Math.floor((event.clientY - box.top - BLOCKS_PX) / rowPx)];
    const at = line.from + ((event.clientX - box.left) / box.width) * (line.to - line.from);
    if (row) choose(row.spot.id, at);
  };
  const height = BLOCKS_PX + view.sun.length * rowPx;
  return (
    <figure className="sun-rows">
      <ol className="sun-names" aria-hidden="true">
        {view.sun.map((row) => (
          <li key={row.spot.id} className={row.spot.id === chosen?.spot.id ? 'chosen' : ''}>
            <span>
              <b>{row.spot.number}</b> {row.spot.name}
            </span>
            <Look azimuthDeg={row.viewAzimuthDeg} />
          </li>
        ))}
      </ol>
      <div ref={frame} className="sun-drawing">
        {/* Arrows do by keyboard what a press does here; the rows' own words stand below for who cannot see them. */}
        {/* biome-ignore lint/a11y/useKeyWithClickEvents: see above */}
        <svg
          viewBox={`0 0 ${width} ${height}`}
          width={width}
          height={height}
          role="img"
          aria-label={view.sun.map((row) => rowWords(row)).join('; ')}
          onClick={press}
        >
          <rect className="row-paper" y={BLOCKS_PX} width={width} height={height - BLOCKS_PX} />
          {view.sessions.map((session) => (
            <rect
              key={session.name}
              className="session-block"
              data-tint={view.groups.find(({ key }) => key === session.group)?.tint}
              x={scale.x(session.from) + 0.5}
              width={Math.max(1, scale.x(session.to) - scale.x(session.from) - 1)}
              height={5}
            />
          ))}
          <g transform={`translate(0 ${BLOCKS_PX})`}>
            {view.sun.map((row, i) => (
              <Row
                key={row.spot.id}
                row={row}
                stands={stands}
                scale={scale}
                top={i * rowPx}
                width={width}
                size={size}
              />
            ))}
            <Path sun={view.sun} stands={stands} scale={scale} rowPx={rowPx} />
            <ChosenFrame sun={view.sun} chosen={chosen} scale={scale} rowPx={rowPx} />
          </g>
        </svg>
        <HighSun high={view.highSun} />
      </div>
      <RowsKey />
    </figure>
  );
}

const rowWords = ({ spot, words }: SheetSun): string =>
  `${spot.number} ${spot.name}: ${words.map(({ word, from, to }) => `${word} ${clockOf(from)} to ${clockOf(to)}`).join(', ')}`;

/** The dot is the lens; north is up. */
function Look({ azimuthDeg }: { readonly azimuthDeg: number | null }) {
  if (azimuthDeg === null) return null;
  const [east, north] = [Math.sin((azimuthDeg * Math.PI) / 180) * 6.5, Math.cos((azimuthDeg * Math.PI) / 180) * 6.5];
  return (
    <svg width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true" className="look-mark">
      <path d={`M${-east} ${north}L${east} ${-north}`} />
      <circle cx={-east} cy={north} r="2.2" />
    </svg>
  );
}

interface RowProps {
  readonly row: SheetSun;
  readonly stands: readonly SheetStand[];
  readonly scale: RowScale;
  readonly top: number;
  readonly width: number;
  readonly size: RowSize;
}

function Row({ row, stands, scale, top, width, size }: RowProps) {
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
      {placedWords(row, stands, scale, widthOf).map(({ word, width: wide, middle }) => (
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

/** Done is filled, to come is open; a slope is the way, as wide as the time it takes. */
function Path({
  sun,
  stands,
  scale,
  rowPx,
}: Pick<RowProps, 'stands' | 'scale'> & { readonly sun: readonly SheetSun[]; readonly rowPx: number }) {
  const middleOf = ({ spot }: SheetStand): number | null => {
    const i = sun.findIndex((row) => row.spot.id === spot.id);
    return i < 0 ? null : (i + 0.5) * rowPx;
  };
  const slopes = stands.slice(1).flatMap((stand, i) => {
    const before = stands[i]!;
    const [y, next] = [middleOf(before), middleOf(stand)];
    return y === null || next === null ? [] : [`M${scale.x(before.to)} ${y}L${scale.x(stand.from)} ${next}`];
  });
  return (
    <>
      <path className="way-paper" d={slopes.join('')} />
      <path className="way-ink" d={slopes.join('')} />
      {stands.map((stand) => {
        const y = middleOf(stand);
        if (y === null) return null;
        const [x, width] = [scale.x(stand.from), Math.max(2, scale.x(stand.to) - scale.x(stand.from))];
        return (
          <g key={`${stand.spot.id} ${stand.from}`}>
            <rect className="row-paper" x={x} y={y - 7} width={width} height={14} />
            <rect className={`stand-bar${stand.isDone ? ' done' : ''}`} x={x} y={y - 4} width={width} height={8} />
          </g>
        );
      })}
    </>
  );
}

function ChosenFrame({
  sun,
  chosen,
  scale,
  rowPx,
}: Pick<RowProps, 'scale'> & {
  readonly sun: readonly SheetSun[];
  readonly chosen: Chosen | null;
  readonly rowPx: number;
}) {
  const i = sun.findIndex(({ spot }) => spot.id === chosen?.spot.id);
  if (chosen === null || i < 0) return null;
  const x = scale.x(chosen.from);
  return (
    <rect
      className="chosen-frame"
      x={x}
      y={i * rowPx + 1.5}
      width={Math.max(4, scale.x(chosen.to) - x)}
      height={rowPx - 3}
    />
  );
}

const HighSun = ({ high }: { readonly high: PlanView['highSun'] }) =>
  high && (
    <figcaption className="note">
      Sun above 12° from {clockOf(high.from)} to {clockOf(high.to)}
    </figcaption>
  );

function RowsKey() {
  return (
    <ul className="sun-key">
      <li>
        <i className="thin" /> the side you see is lit
      </li>
      <li>
        <i className="thick" /> the side you see is in shade
      </li>
      <li>
        <i className="low" /> low sun, under 12°
      </li>
      <li>
        <i className="dots" /> front, side, back change
      </li>
      <li>
        <i className="bar" /> where you will stand
      </li>
    </ul>
  );
}
