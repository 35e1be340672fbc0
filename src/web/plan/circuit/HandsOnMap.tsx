/** What a pointer takes hold of on the map. Every drag has its keys: the list, the arrows, the fields. */
import { type PointerEvent, type ReactNode, useRef } from 'react';
import type { Point } from '../../../core/numeric/localPlane.js';
import { azimuthFrom } from '../../../core/plan/circuit/angles.js';
import type { Sheet } from '../../../core/plan/circuit/draw/drawCircuit.js';
import { saySpot } from '../../../core/plan/circuit/edit/spots.js';
import { planeAt, pointOf } from '../../../core/plan/circuit/track.js';
import type { CircuitSpot, Place } from '../../../core/plan/circuit/types.js';
import { degreesOf } from '../../../core/units.js';
import type { CircuitHand, Hand } from './circuitHand.js';
import { type Held, isSame, placeOfHeld } from './held.js';

interface HandsOnMapProps {
  readonly hand: CircuitHand;
  readonly now: Hand;
  readonly sheet: Sheet;
}

/** Of the handle by which a view is turned, from its spot. */
const TURN_PX = 54;

export function HandsOnMap({ hand, now, sheet }: HandsOnMapProps) {
  const { circuit, held, cross, drawing } = now;
  const spot = held.kind === 'spot' ? circuit.spots.find(({ id }) => id === held.id) : undefined;
  const tap = (event: PointerEvent) => hand.tap(sheet.toPlace(pointUnder(event)));
  return (
    <g className="hands">
      <rect className="ground" width="100%" height="100%" onPointerDown={tap} />
      {drawing && <path className="drawing" d={pathOf(drawing.map(sheet.toSheet))} />}
      {(held.kind === 'line' || held.kind === 'way') && <Points hand={hand} now={now} sheet={sheet} />}
      {movable(now).map((one) => (
        <Grip key={JSON.stringify(one)} hand={hand} now={now} sheet={sheet} one={one} radius={14} />
      ))}
      {spot && <ViewGrip hand={hand} now={now} sheet={sheet} spot={spot} />}
      <HeldMark at={sheet.toSheet(placeOfHeld(circuit, held, cross) ?? cross)} isCross={held.kind === 'cross'} />
    </g>
  );
}

const movable = ({ circuit }: Hand): readonly Held[] => [
  { kind: 'paddock' },
  ...circuit.bends.map((_, index): Held => ({ kind: 'bend', index })),
  ...circuit.spots.map(({ id }): Held => ({ kind: 'spot', id })),
];

/** Of the way or the line that is held: a recorded line has hundreds, so they are small. */
function Points({ hand, now, sheet }: HandsOnMapProps) {
  const { circuit, held } = now;
  if (held.kind !== 'line' && held.kind !== 'way') return null;
  const line = held.kind === 'line' ? circuit.centreline : circuit.ways.find(({ id }) => id === held.id)?.line;
  return line?.map((place, point) => {
    const { x, y } = sheet.toSheet(place);
    return (
      // biome-ignore lint/suspicious/noArrayIndexKey: a point of a line is its place in it
      <g key={point}>
        <rect className="line-point" x={x - 2} y={y - 2} width={4} height={4} />
        <Grip hand={hand} now={now} sheet={sheet} one={{ ...held, point }} radius={7} />
      </g>
    );
  });
}

interface GripProps extends HandsOnMapProps {
  readonly one: Held;
  readonly radius: number;
}

function Grip({ hand, now, sheet, one, radius }: GripProps) {
  const place = placeOfHeld(now.circuit, one, now.cross);
  if (place === null) return null;
  const isHeld = isSame(one, now.held);
  return (
    <Dragged
      at={sheet.toSheet(place)}
      radius={isHeld ? radius + 4 : radius}
      grasp={() => hand.hold(one)}
      move={(to) => hand.dragTo(now.held.kind === one.kind ? now.held : one, sheet.toPlace(to))}
      drop={hand.letGo}
    />
  );
}

function ViewGrip({ hand, now, sheet, spot }: HandsOnMapProps & { readonly spot: CircuitSpot }) {
  const { x, y } = sheet.toSheet(spot.place);
  const angle = (spot.viewAzimuthDeg * Math.PI) / 180;
  const at = { x: x + TURN_PX * Math.sin(angle), y: y - TURN_PX * Math.cos(angle) };
  const turn = (to: Point) => {
    const viewAzimuthDeg = degreesOf(Math.round(bearing(spot.place, sheet.toPlace(to))) % 360);
    hand.shift(saySpot(now.circuit, spot.id, { ...spot, viewAzimuthDeg }), `Spot ${spot.number} ${spot.name} turned`);
  };
  return (
    <g>
      <path className="view-line" d={`M${x} ${y}L${at.x} ${at.y}`} />
      <circle className="view-grip" cx={at.x} cy={at.y} r={5} />
      <Dragged at={at} radius={14} grasp={() => undefined} move={turn} drop={hand.letGo} />
    </g>
  );
}

const bearing = (from: Place, to: Place): number => {
  const plane = planeAt(from);
  return azimuthFrom({ x: 0, y: 0 }, pointOf(plane, to));
};

interface DraggedProps {
  readonly at: Point;
  readonly radius: number;
  readonly grasp: () => void;
  readonly move: (to: Point) => void;
  readonly drop: () => void;
  readonly children?: ReactNode;
}

/** Within this it is a tap: a hand that only chooses moves nothing. */
const SLACK_PX = 4;

function Dragged({ at, radius, grasp, move, drop }: DraggedProps) {
  const from = useRef<{ readonly at: Point; isMoving: boolean } | null>(null);
  return (
    <circle
      className="grip"
      cx={at.x}
      cy={at.y}
      r={radius}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        from.current = { at: pointUnder(event), isMoving: false };
        grasp();
      }}
      onPointerMove={(event) => {
        const start = from.current;
        if (start === null) return;
        const to = pointUnder(event);
        start.isMoving ||= Math.hypot(to.x - start.at.x, to.y - start.at.y) > SLACK_PX;
        if (start.isMoving) move(to);
      }}
      onPointerUp={() => {
        from.current = null;
        drop();
      }}
      onPointerCancel={() => {
        from.current = null;
        drop();
      }}
    />
  );
}

function HeldMark({ at: { x, y }, isCross }: { readonly at: Point; readonly isCross: boolean }) {
  const d = isCross ? 'M-11 0h8m6 0h8M0 -11v8m0 6v8' : 'M-18 -11v-7h7M18 -11v-7h-7M-18 11v7h7M18 11v7h-7';
  return <path className="held-mark" transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`} d={d} />;
}

const pathOf = (points: readonly Point[]): string =>
  points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');

/** On the sheet, whatever width the browser gave it. */
function pointUnder(event: PointerEvent): Point {
  const target = event.currentTarget as SVGGraphicsElement;
  const svg = target.ownerSVGElement!;
  const box = svg.getBoundingClientRect();
  const scale = svg.viewBox.baseVal.width / box.width;
  return { x: (event.clientX - box.left) * scale, y: (event.clientY - box.top) * scale };
}
