/** Dragging a stretch out of the day line, and its two ends for the keyboard. */
import { type KeyboardEvent, type PointerEvent, type RefObject, useRef, useState } from 'react';
import type { DayLineView } from '../../server/types.js';
import { clockOf, percentAt } from './lineGeometry.js';
import { moveEnd, type Stretch, stretchOf, stretchWords, wallAt } from './stretch.js';

export type Choose = (stretch: Stretch | null) => void;

/** Less than this is a click that shook. */
const LEAST_DRAG_PX = 6;

interface Drag {
  readonly startPx: number;
  readonly isMoving: boolean;
}

/** Handlers for the line's box, and what is dragged out so far. Links under the pointer still take a click. */
export function useDrag(line: DayLineView, box: RefObject<HTMLDivElement | null>, choose: Choose) {
  const drag = useRef<Drag | null>(null);
  const hasDragged = useRef(false);
  const [dragged, setDragged] = useState<Stretch | null>(null);
  const shareAt = (px: number): number => {
    const { left, width } = box.current?.getBoundingClientRect() ?? { left: 0, width: 1 };
    return (px - left) / width;
  };
  const stretchTo = (px: number): Stretch | null =>
    drag.current && stretchOf(line, wallAt(line, shareAt(drag.current.startPx)), wallAt(line, shareAt(px)));
  const end = () => {
    drag.current = null;
    setDragged(null);
  };
  const handlers = {
    onPointerDown: (event: PointerEvent) => {
      hasDragged.current = false;
      if (event.button === 0) drag.current = { startPx: event.clientX, isMoving: false };
    },
    onPointerMove: (event: PointerEvent) => {
      const now = drag.current;
      if (!now || (!now.isMoving && Math.abs(event.clientX - now.startPx) < LEAST_DRAG_PX)) return;
      if (!now.isMoving) box.current?.setPointerCapture(event.pointerId);
      drag.current = { ...now, isMoving: true };
      setDragged(stretchTo(event.clientX));
    },
    onPointerUp: (event: PointerEvent) => {
      const stretch = drag.current?.isMoving ? stretchTo(event.clientX) : null;
      hasDragged.current = drag.current?.isMoving ?? false;
      end();
      if (stretch) choose(stretch);
    },
    onPointerCancel: end,
    onClickCapture: (event: { preventDefault(): void; stopPropagation(): void }) => {
      if (!hasDragged.current) return;
      hasDragged.current = false;
      event.preventDefault();
      event.stopPropagation();
    },
    onDragStart: (event: { preventDefault(): void }) => event.preventDefault(),
  };
  return { dragged, handlers };
}

type End = 'from' | 'to';
const STEP_MINUTES = 5;

/** Minutes to the next edge of a session on that side; to the line's end where there is none. */
function minutesToEdge(line: DayLineView, wall: number, step: 1 | -1): number {
  const edges = [line.from, line.to, ...line.sessions.flatMap((session) => [session.start, session.end])];
  const ahead = edges.filter((edge) => (edge - wall) * step > 30_000).map((edge) => (edge - wall) / 60_000);
  const nearest = step === 1 ? Math.ceil(Math.min(...ahead)) : Math.floor(Math.max(...ahead));
  return Number.isFinite(nearest) ? nearest : 0;
}

function minutesOf(line: DayLineView, wall: number, { key, shiftKey }: KeyboardEvent): number | null {
  switch (key) {
    case 'ArrowLeft':
      return shiftKey ? minutesToEdge(line, wall, -1) : -STEP_MINUTES;
    case 'ArrowRight':
      return shiftKey ? minutesToEdge(line, wall, 1) : STEP_MINUTES;
    case 'ArrowDown':
      return -1;
    case 'ArrowUp':
      return 1;
    case 'Home':
      return (line.from - wall) / 60_000;
    case 'End':
      return (line.to - wall) / 60_000;
    default:
      return null;
  }
}

interface StretchPartProps {
  readonly line: DayLineView;
  readonly stretch: Stretch | null;
  readonly dragged: Stretch | null;
  readonly choose: Choose;
}

export function StretchPart({ line, stretch, dragged, choose }: StretchPartProps) {
  const shown = dragged ?? stretch;
  const [from, to] = [percentAt(line, shown?.from ?? line.from), percentAt(line, shown?.to ?? line.to)];
  return (
    <div className={`stretch${shown ? '' : ' none'}`}>
      {shown && (
        <>
          <i className="beside" style={{ insetInlineStart: 0, inlineSize: `${from}%` }} />
          <i className="beside" style={{ insetInlineStart: `${to}%`, insetInlineEnd: 0 }} />
          <span
            className={`stretch-words${from > 70 ? ' left' : ''}`}
            style={from > 70 ? { insetInlineEnd: `${100 - to}%` } : { insetInlineStart: `${from}%` }}
          >
            {stretchWords(shown)}
          </span>
        </>
      )}
      <StretchEnd end="from" percent={from} line={line} stretch={shown} choose={choose} />
      <StretchEnd end="to" percent={to} line={line} stretch={shown} choose={choose} />
    </div>
  );
}

interface StretchEndProps {
  readonly end: End;
  readonly percent: number;
  readonly line: DayLineView;
  readonly stretch: Stretch | null;
  readonly choose: Choose;
}

const NAMES: Readonly<Record<End, string>> = {
  from: 'stretch shown, from',
  to: 'stretch shown, to',
};

/** An end as a slider: arrows by five minutes, with Shift by session, up and down by one; Escape lets the stretch go. */
function StretchEnd({ end, percent, line, stretch, choose }: StretchEndProps) {
  // Keys come faster than the address changes: each is counted on from the one before.
  const latest = useRef({ seen: stretch, now: stretch });
  if (latest.current.seen !== stretch) latest.current = { seen: stretch, now: stretch };
  const whole: Stretch = { from: line.from, to: line.to };
  const wall = (stretch ?? whole)[end];
  const onKeyDown = (event: KeyboardEvent) => {
    const now = latest.current.now ?? whole;
    const minutes = event.key === 'Escape' ? null : minutesOf(line, now[end], event);
    if (minutes === null && event.key !== 'Escape') return;
    event.preventDefault();
    const moved = minutes === null ? whole : moveEnd(line, now, end, minutes);
    const next = moved.from === line.from && moved.to === line.to ? null : moved;
    latest.current = { ...latest.current, now: next };
    choose(next);
  };
  return (
    <span
      role="slider"
      tabIndex={0}
      className={`stretch-end ${end}`}
      style={{ insetInlineStart: `${percent}%` }}
      aria-label={NAMES[end]}
      aria-valuemin={0}
      aria-valuemax={(line.to - line.from) / 60_000}
      aria-valuenow={(wall - line.from) / 60_000}
      aria-valuetext={clockOf(wall)}
      onKeyDown={onKeyDown}
    />
  );
}
