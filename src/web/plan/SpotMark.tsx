/** A spot on the map: its number, where it looks, a rim where the plan stands there, the sun as a tick on the rim. */
import type { DrawnSpot } from '../../core/plan/circuit/draw/drawCircuit.js';
import type { Degrees } from '../../core/units.js';

export interface SpotMarkProps {
  readonly spot: DrawnSpot;
  /** Null: the sun is not spoken of, or down. */
  readonly sunDeg: Degrees | null;
  readonly hasRim: boolean;
  readonly isChosen: boolean;
}

const DISC = 9.4;
const RIM = 14;
const LOOK = 40;
const LOOK_HALF_DEG = 16;

/** Right and down of a point at that azimuth: north is up. */
const towards = (deg: number, far: number): string =>
  `${(far * Math.sin((deg * Math.PI) / 180)).toFixed(1)} ${(-far * Math.cos((deg * Math.PI) / 180)).toFixed(1)}`;

export function SpotMark({ spot, sunDeg, hasRim, isChosen }: SpotMarkProps) {
  const { viewAzimuthDeg: view, x, y } = spot;
  return (
    <g className={`spot${isChosen ? ' chosen' : ''}`} transform={`translate(${x} ${y})`}>
      <path
        className="look"
        d={`M0 0L${towards(view - LOOK_HALF_DEG, LOOK)}A${LOOK} ${LOOK} 0 0 1 ${towards(view + LOOK_HALF_DEG, LOOK)}Z`}
      />
      {(hasRim || sunDeg !== null) && <circle className="rim" r={RIM} />}
      {sunDeg !== null && <path className="sun-tick" d={`M${towards(sunDeg, DISC)}L${towards(sunDeg, RIM)}`} />}
      {isChosen && <circle className="chosen-rim" r={RIM + 4} />}
      <circle className="disc" r={DISC} />
      <text className="spot-number" y={4.4} textAnchor="middle">
        {spot.number}
      </text>
    </g>
  );
}
