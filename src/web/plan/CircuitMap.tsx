/**
 * The circuit with its spots, ways and bends. On a spot's rim a tick stands where the sun is; one's way lies over it. What is
 * drawn on it by hand goes under or over as children.
 */
import { type ReactNode, useMemo } from 'react';
import type { SpotId } from '../../core/ids.js';
import type { Point } from '../../core/numeric/localPlane.js';
import {
  type CircuitDrawing,
  closeUp,
  type DrawnCrossing,
  type DrawnMark,
  type DrawnSpot,
  type DrawnWay,
  drawCircuit,
  type Sheet,
  sheetOf,
  USUAL_LETTERING,
} from '../../core/plan/circuit/draw/drawCircuit.js';
import { minutesOnRoute } from '../../core/plan/circuit/draw/minutesOnRoute.js';
import type { Circuit, Place } from '../../core/plan/circuit/types.js';
import { type Means, travelOver } from '../../core/plan/circuit/ways/legs.js';
import type { Degrees } from '../../core/units.js';
import { SpotMark } from './SpotMark.js';
import { useWidth } from './useWidth.js';

/** One's way from one stop to the next; null is the paddock. To come it is open, gone it is filled. */
export interface RouteLeg {
  readonly from: SpotId | null;
  readonly to: SpotId | null;
  readonly minutes: number;
  readonly isDone: boolean;
}

export interface CircuitMapProps {
  readonly circuit: Circuit;
  /** For who cannot see it. */
  readonly label: string;
  /** Where the sun stands while one is at a spot, from north, clockwise. */
  readonly suns?: ReadonlyMap<SpotId, Degrees>;
  /** Spots of the plan: they carry a rim. */
  readonly stands?: ReadonlySet<SpotId>;
  readonly route?: readonly RouteLeg[];
  /** By which the route is gone. */
  readonly means?: Means;
  /** The spot spoken of. */
  readonly chosen?: SpotId | null;
  /** The drawing that fills the map, where another one is drawn on it: held still while something is dragged. */
  readonly fitted?: Circuit;
  /** Drawn large about this place. */
  readonly middle?: Place | null;
  /** Height ÷ width. */
  readonly ratio?: number;
  readonly under?: (sheet: Sheet) => ReactNode;
  readonly over?: (sheet: Sheet) => ReactNode;
}

const NO_WAY: readonly RouteLeg[] = [];
const USUAL_WIDTH = 520;
/** As much larger is a close look. */
const TIMES = 5;

export function CircuitMap({ circuit, fitted, middle, ...rest }: CircuitMapProps) {
  const { label, ratio = 0.715, route = NO_WAY, means = ON_FOOT, under, over, ...marked } = rest;
  const [frame, width] = useWidth(USUAL_WIDTH);
  const height = Math.round(Math.max(240, width * ratio));
  const whole = sheetOf(fitted ?? circuit, width, height);
  const sheet = middle ? closeUp(whole, middle, TIMES, width, height) : whole;
  const drawing = drawCircuit(circuit, width, height, undefined, sheet);
  const legs = useLegs(circuit, route, means, sheet);
  return (
    <div className="circuit-map" ref={frame}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={label}>
        {under?.(sheet)}
        {drawing.ways.map((way) => (
          <WayLine key={way.id} way={way} />
        ))}
        <Track drawing={drawing} />
        <RouteLines legs={legs} />
        <Paddock mark={drawing.paddock} />
        <Spots spots={drawing.spots} {...marked} />
        {drawing.crossings.map((crossing) => (
          <CrossingMark key={`${crossing.x} ${crossing.y}`} crossing={crossing} />
        ))}
        {drawing.bends.map((bend) => (
          <BendMark key={`${bend.name} ${bend.x} ${bend.y}`} bend={bend} />
        ))}
        <RouteMinutes legs={legs} drawing={drawing} />
        <ScaleAndNorth drawing={drawing} />
        {over?.(sheet)}
      </svg>
    </div>
  );
}

const WayLine = ({ way }: { readonly way: DrawnWay }) => (
  <path className={`way ${way.kind}${way.needsPermit ? ' with-permit' : ''}`} d={way.d} />
);

/** Two edges with paper between: as wide as it is, and never so thin that it is taken for a way. */
function Track({ drawing: { track, trackWidth, start } }: { readonly drawing: CircuitDrawing }) {
  const width = Math.max(4.6, trackWidth);
  return (
    <>
      <path className="track-edge" d={track} strokeWidth={width + 2.6} />
      <path className="track-bed" d={track} strokeWidth={width} />
      <g transform={`translate(${start.x} ${start.y}) rotate(${start.headingDeg})`}>
        <path className="start-bar" d={`M${-width / 2 - 5} 0H${width / 2 + 5}`} />
        <path className="start-arrow" d={`M${width / 2 + 10} 2V-20m-3.5 6l3.5 -6l3.5 6`} />
      </g>
    </>
  );
}

const Words = ({ mark, className }: { readonly mark: DrawnMark; readonly className: string }) =>
  mark.label && (
    <text className={className} x={mark.label.x + mark.label.width / 2} y={mark.label.y + 11} textAnchor="middle">
      {mark.name}
    </text>
  );

const Paddock = ({ mark }: { readonly mark: DrawnMark }) => (
  <>
    <rect className="paddock" x={mark.x - 8} y={mark.y - 5.5} width={16} height={11} />
    <Words mark={mark} className="place-name" />
  </>
);

/** Rails beside the way where it gets over the track or under it; the word says which. */
const CrossingMark = ({ crossing }: { readonly crossing: DrawnCrossing }) => (
  <>
    <path
      className="crossing"
      transform={`translate(${crossing.x} ${crossing.y}) rotate(${crossing.headingDeg})`}
      d="M-9 -6l3 2.5h12l3 -2.5M-9 6l3 -2.5h12l3 2.5"
    />
    <Words mark={crossing} className="place-name" />
  </>
);

const BendMark = ({ bend }: { readonly bend: DrawnMark }) => (
  <>
    <circle className="bend" cx={bend.x} cy={bend.y} r={1.8} />
    <Words mark={bend} className="place-name" />
  </>
);

type SpotsProps = Pick<CircuitMapProps, 'suns' | 'stands' | 'chosen'> & { readonly spots: readonly DrawnSpot[] };

const Spots = ({ spots, suns, stands, chosen }: SpotsProps) =>
  spots.map((spot) => (
    <g key={spot.id}>
      <SpotMark
        spot={spot}
        sunDeg={suns?.get(spot.id) ?? null}
        hasRim={stands?.has(spot.id) ?? false}
        isChosen={chosen === spot.id}
      />
      <Words mark={spot} className="spot-name" />
    </g>
  ));

interface DrawnLeg {
  readonly points: readonly Point[];
  readonly words: string;
  readonly isDone: boolean;
}

const ON_FOOT: Means = { hasPermit: false, hasVehicle: false };

/** A leg that no way leads is not drawn. */
function useLegs(circuit: Circuit, route: readonly RouteLeg[], means: Means, sheet: Sheet): readonly DrawnLeg[] {
  const { hasPermit, hasVehicle } = means;
  const travel = useMemo(() => travelOver(circuit, { hasPermit, hasVehicle }), [circuit, hasPermit, hasVehicle]);
  return route.flatMap(({ from, to, minutes, isDone }) => {
    const leg = travel.legBetween(from ?? 'paddock', to ?? 'paddock');
    const words = `${minutes} min`;
    return leg === null || leg.line.length < 2 ? [] : [{ points: leg.line.map(sheet.toSheet), words, isDone }];
  });
}

const pathOf = (points: readonly Point[]): string =>
  points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');

/** To come it is open, gone it is filled. */
const RouteLines = ({ legs }: { readonly legs: readonly DrawnLeg[] }) =>
  legs.map(({ points, isDone }, i) => {
    const d = pathOf(points);
    return (
      // biome-ignore lint/suspicious/noArrayIndexKey: the same leg may be gone twice in a day
      <g key={i} className="route">
        <path className="route-edge" d={d} />
        {!isDone && <path className="route-bed" d={d} />}
      </g>
    );
  });

const SPOT_BOX = 20;

function RouteMinutes({ legs, drawing }: { readonly legs: readonly DrawnLeg[]; readonly drawing: CircuitDrawing }) {
  const { spots, bends, crossings, paddock } = drawing;
  const names = [...spots, ...bends, ...crossings, paddock].flatMap(({ label }) => label ?? []);
  const discs = spots.map(({ x, y }) => ({
    x: x - SPOT_BOX / 2,
    y: y - SPOT_BOX / 2,
    width: SPOT_BOX,
    height: SPOT_BOX,
  }));
  return minutesOnRoute(legs, [...discs, ...names], USUAL_LETTERING).map(({ x, y, width }, i) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: the same leg may be gone twice in a day
    <text key={i} className="minutes" x={x + width / 2} y={y + 11} textAnchor="middle">
      {legs[i]?.words}
    </text>
  ));
}

function ScaleAndNorth({ drawing: { width, height, scale } }: { readonly drawing: CircuitDrawing }) {
  return (
    <>
      <path className="scale" d={`M6 ${height - 11}v5h${scale.length}v-5`} />
      <text className="place-name" x={scale.length + 12} y={height - 5}>
        {scale.metres} m
      </text>
      <path className="scale" d={`M${width - 12} ${height - 5}v-24m-4 6l4 -6l4 6`} />
      <text className="place-name" x={width - 12} y={height - 33} textAnchor="middle">
        N
      </text>
    </>
  );
}
