/** What lies over the sun rows: one's way through the day, and the frame about what is spoken of. */
import type { RowScale } from '../../core/plan/sheet/sunRowShapes.js';
import type { SheetStand, SheetSun } from '../../core/plan/sheet/types.js';
import type { Chosen } from './planChoice.js';

interface RowsProps {
  readonly sun: readonly SheetSun[];
  readonly scale: RowScale;
  readonly rowPx: number;
}

/** Done is filled, to come is open; a slope is the way, as wide as the time it takes. */
export function SunPath({ sun, stands, scale, rowPx }: RowsProps & { readonly stands: readonly SheetStand[] }) {
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

export function ChosenFrame({ sun, chosen, scale, rowPx }: RowsProps & { readonly chosen: Chosen | null }) {
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
