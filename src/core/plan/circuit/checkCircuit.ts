/** What is wrong with the drawing of a circuit, each said and shown. Rule PL105. */
import { sayCount, sayMetres, sayPlace } from './placeWords.js';
import { distanceBetween, selfCrossings } from './segments.js';
import { viewOf } from './spotView.js';
import { layTrack, nearestOnTrack, placeOf, pointOf, signedAreaOf, type Track } from './track.js';
import type { Circuit, CircuitProblem, CircuitSpot, Way } from './types.js';
import { layNetwork, type Network } from './ways/network.js';

/** A place that was said to be a bridge answers for a crossing this near. */
const SAID_BRIDGE_M = 25;
const SHORTEST_M = 300;
const LONGEST_M = 30_000;
/** Of the area of the circle of equal length: below it a ring that crosses itself has no plain direction. */
const PLAIN_SHARE = 0.02;
const FURTHEST_SPOT_M = 400;

export function checkCircuit(circuit: Circuit): CircuitProblem[] {
  const track = layTrack(circuit);
  const length = checkLength(track, circuit);
  /** Spots and ways along half a continent tell nobody anything, and take for ever. */
  if (track.lengthM > LONGEST_M) return length;
  const network = layNetwork(circuit, track);
  return [
    ...length,
    ...checkDirection(track, circuit),
    ...checkCrossings(track, circuit),
    ...circuit.bends.flatMap((bend) => checkBend(track, circuit, bend)),
    ...circuit.spots.flatMap((spot) => checkSpot(track, circuit, spot)),
    ...checkPaddock(track, circuit),
    ...circuit.ways.flatMap((way) => checkWay(track, network, way)),
  ];
}

function checkLength(track: Track, { centreline }: Circuit): CircuitProblem[] {
  if (track.lengthM >= SHORTEST_M && track.lengthM <= LONGEST_M) return [];
  return [
    {
      kind: 'odd-length',
      sentence: `The centreline is ${sayMetres(track.lengthM)} round; expected a circuit of ${SHORTEST_M} m to ${LONGEST_M / 1000} km. Check that its places are in degrees, longitude first.`,
      at: [centreline[0]!],
    },
  ];
}

function checkDirection(track: Track, circuit: Circuit): CircuitProblem[] {
  const area = signedAreaOf(track.points);
  const isPlain = Math.abs(area) > (PLAIN_SHARE * track.lengthM ** 2) / (4 * Math.PI);
  const drawn = area > 0 ? 'anticlockwise' : 'clockwise';
  if (!isPlain || drawn === circuit.direction) return [];
  return [
    {
      kind: 'against-direction',
      sentence: `The centreline is drawn ${drawn}, but the circuit is said to run ${circuit.direction}. Turn the line round, or say that it runs ${drawn}.`,
      at: [circuit.centreline[0]!, circuit.centreline[1]!],
    },
  ];
}

function checkCrossings(track: Track, circuit: Circuit): CircuitProblem[] {
  const bridges = (circuit.overItself ?? []).map((place) => pointOf(track.plane, place));
  const crossings = selfCrossings(track.points).filter(
    (point) => !bridges.some((bridge) => distanceBetween(bridge, point) <= SAID_BRIDGE_M),
  );
  if (crossings.length === 0) return [];
  const at = crossings.map((point) => placeOf(track.plane, point));
  return [
    {
      kind: 'crosses-itself',
      sentence: `The centreline crosses itself at ${sayCount(at.length, 'place', 'places')}, the first at ${sayPlace(at[0]!)}. Move its points apart; where the track has a bridge over itself, mark it as one.`,
      at,
    },
  ];
}

function checkBend(track: Track, circuit: Circuit, bend: Circuit['bends'][number]): CircuitProblem[] {
  if (bend.alongM >= 0 && bend.alongM < track.lengthM) return [];
  return [
    {
      kind: 'bend-off-line',
      sentence: `The bend ${bend.name} lies ${sayMetres(bend.alongM)} along the line, which is ${sayMetres(track.lengthM)} round. Set it again on the map.`,
      at: [circuit.centreline[0]!],
    },
  ];
}

function checkSpot(track: Track, circuit: Circuit, spot: CircuitSpot): CircuitProblem[] {
  const { distanceM } = nearestOnTrack(track, pointOf(track.plane, spot.place));
  const name = `Spot ${spot.number}, ${spot.name},`;
  const at = [spot.place];
  if (distanceM < track.halfWidthM)
    return [
      {
        kind: 'spot-on-track',
        sentence: `${name} stands on the track: ${sayMetres(distanceM)} from its middle, and the track is ${sayMetres(2 * track.halfWidthM)} wide. Move it behind the barrier, or correct the width.`,
        at,
      },
    ];
  if (distanceM > FURTHEST_SPOT_M)
    return [
      {
        kind: 'spot-far-off',
        sentence: `${name} is ${sayMetres(distanceM)} from the track; expected at most ${FURTHEST_SPOT_M} m. Move it, or take it away.`,
        at,
      },
    ];
  if (viewOf(circuit, spot, track) !== null) return [];
  return [
    {
      kind: 'view-misses',
      sentence: `${name} looks towards ${Math.round(spot.viewAzimuthDeg)}° from north and sees no track there. Turn its view.`,
      at,
    },
  ];
}

/** A recording that breaks off on the last lap leaves it there; no way could be joined to it. */
function checkPaddock(track: Track, { paddock }: Circuit): CircuitProblem[] {
  const { distanceM } = nearestOnTrack(track, pointOf(track.plane, paddock));
  if (distanceM >= track.halfWidthM) return [];
  return [
    {
      kind: 'paddock-on-track',
      sentence: `The paddock lies on the track: ${sayMetres(distanceM)} from its middle. Move it to where the van stands and the cards are brought in.`,
      at: [paddock],
    },
  ];
}

function checkWay(track: Track, { joined, onTrack }: Network, way: Way): CircuitProblem[] {
  const at = (onTrack.get(way.id) ?? []).map((point) => placeOf(track.plane, point));
  if (at.length > 0)
    return [
      {
        kind: 'way-on-track',
        sentence: `The way ${way.id} meets the track at ${sayCount(at.length, 'place', 'places')}, the first at ${sayPlace(at[0]!)}, and no bridge or tunnel is said. It is not used until one is, or until it is moved off the track.`,
        at,
      },
    ];
  if (joined.has(way.id)) return [];
  return [
    {
      kind: 'way-joins-nothing',
      sentence: `The way ${way.id} joins no other way, no spot and not the paddock. Lay an end within 15 m of one, on the same side of the track.`,
      at: [way.line[0]!, way.line.at(-1)!],
    },
  ];
}
