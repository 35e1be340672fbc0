/**
 * The usual cautions, at the spots they belong to. They are common custom; the circuit's, the marshals' and local rules stand
 * above every one of them and come first (rule PL914).
 */
import type { CircuitSpot } from '../circuit/types.js';
import type { CareStay, Caution } from './types.js';

export const RULES_FIRST =
  'The circuit’s, the marshals’ and local rules come first; whatever this page says, do as they say.';

const ALL_DAY: readonly string[] = [
  'A tabard gives no right to a place: what is unsafe for a spectator is unsafe for you.',
  'Behind the first barrier; no leaning or sitting on it, nothing laid on it. One knee at most.',
  'Face the traffic and keep a way out. Never cross a hot track.',
  'No red or yellow clothes: they are read as flags. Long trousers, ankle boots with grip.',
  'Red flag: stand still, lens down and off anybody hurt, do what marshals say.',
  'No flash: it dazzles. No drone. No children at the side of the track.',
];

export function cautionsOf(stays: readonly CareStay[], usesServiceRoad: boolean): readonly Caution[] {
  const spots = [...new Map(stays.map(({ spot }) => [spot.id, spot])).values()];
  const ofDay = [RULES_FIRST, ...ALL_DAY, ...(usesServiceRoad ? [SERVICE_ROAD] : [])];
  return [
    ...ofDay.map((sentence) => ({ spot: null, sentence })),
    ...spots.flatMap((spot) => ofSpot(spot, stays).map((sentence) => ({ spot, sentence }))),
  ];
}

const SERVICE_ROAD =
  'Service roads: only with a permit, at a crawl, hazard lights on, and never while a recovery is moving.';

/** Nearer than this a bike that goes down can reach one within a second or so; no source, a caution. */
const NEAR_M = 15;

function ofSpot(spot: CircuitSpot, stays: readonly CareStay[]): readonly string[] {
  const here = stays.filter((stay) => stay.spot.id === spot.id);
  const nearest = Math.min(...here.map(({ distanceM }) => distanceM));
  const hasBend = spot.moments?.some((moment) => moment !== 'straight') ?? false;
  return [
    ...(spot.caution === undefined ? [] : [spot.caution]),
    ...(spot.needsPermit === true ? ['Only with a permit for this place; ask the nearest marshal when you come.'] : []),
    ...(hasBend ? ['A bend: never on its outside, where whoever falls goes.'] : []),
    ...(nearest < NEAR_M ? [`${Math.round(nearest)} m from the bikes: only behind a barrier, with a way out.`] : []),
    ...(spot.hasShade === false ? ['No shade here: hat, water, and a pause elsewhere.'] : []),
  ];
}
