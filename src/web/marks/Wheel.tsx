/** The coverage wheel: one arc a spot. Fill says what kind of frame, thickness how sure, a spoke that a person said so. */
import type { ArcView } from '../../server/types.js';
import { drawArc, MOST_ARCS, measuresOf, NUMBERS_FROM_PX, pointAt, sectorOf } from './wheelGeometry.js';

const STATE_WORDS: Readonly<Record<ArcView['state'], string>> = {
  good: 'a good frame',
  unsure: 'frames, none sure to be good',
  missed: 'missed',
  'to-come': 'still to come',
};

const wordsOf = (arc: ArcView): string =>
  `${arc.name}: ${STATE_WORDS[arc.state]}${arc.isGuess ? ', a guess' : ''}${arc.isSaid ? ', by your word' : ''}`;

/** Room for the numbers around a large wheel. */
const NUMBER_ROOM_PX = 15;

export interface WheelProps {
  readonly arcs: readonly ArcView[];
  /** Diameter of the ring in px. */
  readonly size: number;
  /** Keepers, printed inside a large wheel. */
  readonly keepers?: number;
}

export function Wheel({ arcs, size, keepers }: WheelProps) {
  const shown = arcs.slice(0, MOST_ARCS);
  if (shown.length === 0) return null;
  const hasNumbers = size >= NUMBERS_FROM_PX;
  const whole = size + (hasNumbers ? 2 * NUMBER_ROOM_PX : 0);
  const { thicknessPx, outlinePx } = measuresOf(size);
  return (
    <svg
      className="wheel"
      width={whole}
      height={whole}
      viewBox={`${-whole / 2} ${-whole / 2} ${whole} ${whole}`}
      role="img"
      aria-label={shown.map(wordsOf).join('; ')}
    >
      {shown.map((arc, i) => {
        const drawn = drawArc(arc, i, shown.length, size);
        const sector = sectorOf(i, shown.length);
        const [x, y] = pointAt((sector.fromDeg + sector.toDeg) / 2, size / 2 + NUMBER_ROOM_PX / 2 + 1);
        return (
          <g key={arc.spot}>
            <path className={`arc ${arc.state}`} d={drawn.path} strokeWidth={arc.state === 'missed' ? outlinePx : 1} />
            {drawn.spoke && <path className="spoke" d={drawn.spoke} strokeWidth={Math.max(1.4, thicknessPx * 0.15)} />}
            {hasNumbers && (
              <text className="outside" x={x} y={y} dy=".35em" textAnchor="middle">
                {arc.number}
              </text>
            )}
          </g>
        );
      })}
      {hasNumbers && keepers !== undefined && (
        <text className="inside" y={0} dy=".36em" textAnchor="middle" fontSize={size * 0.32}>
          {keepers}
        </text>
      )}
    </svg>
  );
}
