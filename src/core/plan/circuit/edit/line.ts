/** Changes of the line and its bends. Bends stay where they lie when the line beside them is moved. Rule PL110. */
import { metresOf } from '../../../units.js';
import { distanceBetween } from '../segments.js';
import { layTrack, nearestOnTrack, placeOf, pointAlong, pointOf, wrapAlong } from '../track.js';
import type { Bend, Circuit, Place } from '../types.js';
import { type Edited, edited, notDone } from './edited.js';

const byAlong = (bends: readonly Bend[]): Bend[] => [...bends].sort((a, b) => a.alongM - b.alongM);

/** Bends go to where they lie on the new line. */
function withLine(circuit: Circuit, centreline: readonly Place[]): Circuit {
  const [old, now] = [layTrack(circuit), layTrack({ ...circuit, centreline })];
  const bends = circuit.bends.map((bend) => {
    const { longitudeDeg, latitudeDeg } = placeOf(old.plane, pointAlong(old, bend.alongM));
    return { ...bend, alongM: nearestOnTrack(now, now.plane.toPoint(longitudeDeg, latitudeDeg)).alongM };
  });
  return { ...circuit, centreline, bends: byAlong(bends) };
}

const noPoint = (circuit: Circuit, index: number): Edited =>
  notDone(circuit, `Expected a point of the line from 0 to ${circuit.centreline.length - 1}, but found ${index}.`);
const hasPoint = (circuit: Circuit, index: number): boolean => circuit.centreline[index] !== undefined;

export const moveLinePoint = (circuit: Circuit, index: number, place: Place): Edited =>
  hasPoint(circuit, index) ? edited(withLine(circuit, circuit.centreline.with(index, place))) : noPoint(circuit, index);

/** Behind the point of that index. */
export const insertLinePoint = (circuit: Circuit, index: number, place: Place): Edited =>
  hasPoint(circuit, index)
    ? edited(withLine(circuit, circuit.centreline.toSpliced(index + 1, 0, place)))
    : noPoint(circuit, index);

export function removeLinePoint(circuit: Circuit, index: number): Edited {
  if (!hasPoint(circuit, index)) return noPoint(circuit, index);
  if (circuit.centreline.length <= 3)
    return notDone(circuit, 'A line of three points can lose none; draw it finer first.', [circuit.centreline[index]!]);
  return edited(withLine(circuit, circuit.centreline.toSpliced(index, 1)));
}

/** A start set on a drawn point is that point. */
const SAME_M = 0.01;

/** The line begins at another place: metres along are counted from there. */
export function startLineAt(circuit: Circuit, place: Place): Edited {
  const track = layTrack(circuit);
  const { alongM, point } = nearestOnTrack(track, track.plane.toPoint(place.longitudeDeg, place.latitudeDeg));
  const next = track.alongs.findIndex((along) => along > alongM);
  const turned = next < 0 ? track.points : [...track.points.slice(next), ...track.points.slice(0, next)];
  const others = turned.filter((one) => distanceBetween(one, point) > SAME_M);
  const centreline = [point, ...others].map((one) => placeOf(track.plane, one));
  const bends = circuit.bends.map((bend) => ({ ...bend, alongM: wrapAlong(track, bend.alongM - alongM) }));
  return edited({ ...circuit, centreline, bends: byAlong(bends) });
}

/** Bikes go the other way round from the same start. What was said of the direction stands. */
export function turnLineRound(circuit: Circuit): Edited {
  const [first, ...others] = circuit.centreline;
  const track = layTrack(circuit);
  const bends = circuit.bends.map((bend) => ({
    ...bend,
    alongM: wrapAlong(track, metresOf(track.lengthM - bend.alongM)),
  }));
  return edited({ ...circuit, centreline: [first!, ...others.reverse()], bends: byAlong(bends) });
}

/* Bends */

/** Where a bend lies. */
export function placeOfBend(circuit: Circuit, bend: Bend): Place {
  const track = layTrack(circuit);
  return placeOf(track.plane, pointAlong(track, bend.alongM));
}

/** On the line where it is nearest to the place. */
export function addBend(circuit: Circuit, name: string, place: Place): Edited {
  const track = layTrack(circuit);
  const { alongM } = nearestOnTrack(track, pointOf(track.plane, place));
  return edited({ ...circuit, bends: byAlong([...circuit.bends, { name, alongM }]) });
}

const noBend = (circuit: Circuit, index: number): Edited =>
  notDone(circuit, `Expected a bend from 0 to ${circuit.bends.length - 1}, but found ${index}.`);

/** Along the line: it stays on it, and among the others in their order. */
export function moveBend(circuit: Circuit, index: number, alongM: number): Edited {
  const bend = circuit.bends[index];
  if (bend === undefined) return noBend(circuit, index);
  const moved = { ...bend, alongM: wrapAlong(layTrack(circuit), alongM) };
  return edited({ ...circuit, bends: byAlong(circuit.bends.with(index, moved)) });
}

export function renameBend(circuit: Circuit, index: number, name: string): Edited {
  const bend = circuit.bends[index];
  return bend === undefined
    ? noBend(circuit, index)
    : edited({ ...circuit, bends: circuit.bends.with(index, { ...bend, name }) });
}

export const removeBend = (circuit: Circuit, index: number): Edited =>
  circuit.bends[index] === undefined
    ? noBend(circuit, index)
    : edited({ ...circuit, bends: circuit.bends.toSpliced(index, 1) });
