/** What the hand holds on the map, where it lies, and what moving it gives. Rule PL115. */
import type { SpotId } from '../../../core/ids.js';
import type { Edited } from '../../../core/plan/circuit/edit/edited.js';
import { moveBend, moveLinePoint, placeOfBend } from '../../../core/plan/circuit/edit/line.js';
import { moveSpot } from '../../../core/plan/circuit/edit/spots.js';
import { changeWay } from '../../../core/plan/circuit/edit/ways.js';
import { movePaddock } from '../../../core/plan/circuit/edit/words.js';
import { layTrack, nearestOnTrack, placeOf, planeAt, pointOf, roundedPlace } from '../../../core/plan/circuit/track.js';
import type { Circuit, Place } from '../../../core/plan/circuit/types.js';

export type Held =
  /** A place on the ground at which something can be set. */
  | { readonly kind: 'cross' }
  | { readonly kind: 'paddock' }
  | { readonly kind: 'spot'; readonly id: SpotId }
  | { readonly kind: 'bend'; readonly index: number }
  | { readonly kind: 'way'; readonly id: string; readonly point: number }
  | { readonly kind: 'line'; readonly point: number };

/** Null: it is no longer there. */
export function placeOfHeld(circuit: Circuit, held: Held, cross: Place): Place | null {
  switch (held.kind) {
    case 'cross':
      return cross;
    case 'paddock':
      return circuit.paddock;
    case 'spot':
      return circuit.spots.find(({ id }) => id === held.id)?.place ?? null;
    case 'bend': {
      const bend = circuit.bends[held.index];
      return bend === undefined ? null : placeOfBend(circuit, bend);
    }
    case 'way':
      return circuit.ways.find(({ id }) => id === held.id)?.line[held.point] ?? null;
    case 'line':
      return circuit.centreline[held.point] ?? null;
  }
}

/** Null for the cross: it is no part of the circuit. A bend goes to the line's nearest place. */
export function movedTo(circuit: Circuit, held: Held, to: Place): Edited | null {
  const place = roundedPlace(to);
  switch (held.kind) {
    case 'cross':
      return null;
    case 'paddock':
      return movePaddock(circuit, place);
    case 'spot':
      return moveSpot(circuit, held.id, place);
    case 'bend': {
      const track = layTrack(circuit);
      return moveBend(circuit, held.index, nearestOnTrack(track, pointOf(track.plane, place)).alongM);
    }
    case 'way': {
      const way = circuit.ways.find(({ id }) => id === held.id);
      return way === undefined ? null : changeWay(circuit, way.id, { ...way, line: way.line.with(held.point, place) });
    }
    case 'line':
      return moveLinePoint(circuit, held.point, place);
  }
}

/** A place some metres further; across it a bend goes along the line. */
export function steppedBy(circuit: Circuit, held: Held, cross: Place, eastM: number, northM: number): Edited | Place {
  if (held.kind === 'bend') {
    const along = circuit.bends[held.index]?.alongM ?? 0;
    return moveBend(circuit, held.index, along + eastM + northM);
  }
  const from = placeOfHeld(circuit, held, cross) ?? cross;
  const to = offBy(from, eastM, northM);
  return movedTo(circuit, held, to) ?? to;
}

function offBy(from: Place, eastM: number, northM: number): Place {
  const plane = planeAt(from);
  return roundedPlace(placeOf(plane, { x: eastM, y: northM }));
}

/** In the order of the list; what is held comes round again. */
export function nextHeld(circuit: Circuit, held: Held): Held {
  const all: readonly Held[] = [
    ...circuit.spots.map(({ id }): Held => ({ kind: 'spot', id })),
    ...circuit.bends.map((_, index): Held => ({ kind: 'bend', index })),
    ...circuit.ways.map(({ id }): Held => ({ kind: 'way', id, point: 0 })),
    { kind: 'paddock' },
    { kind: 'line', point: 0 },
    { kind: 'cross' },
  ];
  const at = all.findIndex((one) => isSame(one, held));
  return all[(at + 1) % all.length]!;
}

/** Whatever point of a way or the line is held, it is that way or line. */
export function isSame(one: Held, other: Held): boolean {
  if (one.kind === 'spot' || one.kind === 'way') return one.kind === other.kind && one.id === other.id;
  if (one.kind === 'bend') return other.kind === 'bend' && one.index === other.index;
  return one.kind === other.kind;
}
