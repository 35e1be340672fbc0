/** The sun rows: one a spot, under the day line and on its hours, with one's way over them. What is spoken of is framed. */
import { type MouseEvent, useMemo } from 'react';
import type { SpotId } from '../../core/ids.js';
import { HOURS_FROM_PX, INNER_PX } from '../../core/plan/sheet/paper.js';
import { crossings, type RowScale } from '../../core/plan/sheet/sunRowShapes.js';
import type { SheetStand, SheetSun } from '../../core/plan/sheet/types.js';
import type { PlanView } from '../../server/planTypes.js';
import type { DayLineView } from '../../server/types.js';
import { clockOf } from '../line/lineGeometry.js';
import type { Chosen } from './planChoice.js';
import { ChosenFrame, SunPath } from './SunPath.js';
import { SunRow } from './SunRow.js';
import { useIsPrinted } from './useIsPrinted.js';
import { useWidth } from './useWidth.js';

const ON_SCREEN = { rowPx: 28, threads: 5 } as const;
/** Five threads run together under a cheap printer's ink. */
const ON_PAPER = { rowPx: 22, threads: 4 } as const;
const BLOCKS_PX = 8;

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
  const taken = [...stands, ...crossings(view.sun, stands)];
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
              <SunRow
                key={row.spot.id}
                row={row}
                taken={taken}
                scale={scale}
                top={i * rowPx}
                width={width}
                size={size}
              />
            ))}
            <SunPath sun={view.sun} stands={stands} scale={scale} rowPx={rowPx} />
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
