/** Ways and bends from their features. */
import { metresOf } from '../../../units.js';
import { sayMetres } from '../placeWords.js';
import { distanceBetween } from '../segments.js';
import { layTrack, nearestOnTrack, placeOf, pointAlong, pointOf } from '../track.js';
import type { Bend, Circuit, Way } from '../types.js';
import type { Feature } from './features.js';
import { Members, numberFrom, oneOf, type Say, someId, someText } from './members.js';

/** A point moved on a map stands before the metres that were written for it. */
const MOVED_M = 5;

export function bendOf(line: Pick<Circuit, 'centreline'>, { path, places, properties }: Feature, say: Say): Bend {
  const at = places.slice(0, 1);
  const track = layTrack(line);
  const of = new Members(properties, { path: `${path}.properties`, what: 'a bend', at }, say);
  const name = of.needed('name', someText, 'Bend without a name', 'give it one');
  const point = pointOf(track.plane, places[0]!);
  const { alongM } = of.optional('alongM', numberFrom(-1e6, 1e6, 'metres'));
  const isThere = alongM !== undefined && distanceBetween(pointAlong(track, alongM), point) <= MOVED_M;
  if (isThere) return { name, alongM: metresOf(alongM) };
  const nearest = nearestOnTrack(track, point);
  if (alongM !== undefined)
    say({
      kind: 'wrong-value',
      sentence: `The bend ${name} (${path}) is written ${sayMetres(alongM)} along the line but drawn at ${sayMetres(nearest.alongM)}; the drawing stands.`,
      at: [...at, placeOf(track.plane, nearest.point)],
    });
  return { name, alongM: nearest.alongM };
}

export function wayOf({ path, places, properties }: Feature, say: Say): Way {
  const of = new Members(properties, { path: `${path}.properties`, what: 'a way', at: places.slice(0, 1) }, say);
  const access = oneOf('anyone', 'with-permit', 'nobody');
  const minutes = numberFrom(0, 120, 'minutes');
  const { minutesOnFoot } = of.optional('minutesOnFoot', minutes);
  const { minutesByVehicle } = of.optional('minutesByVehicle', minutes);
  const said = {
    ...(minutesOnFoot === undefined ? {} : { onFoot: minutesOnFoot }),
    ...(minutesByVehicle === undefined ? {} : { byVehicle: minutesByVehicle }),
  };
  return {
    id: of.needed('id', someId, 'way', 'it was given one'),
    line: places,
    kind: of.needed('kind', oneOf('path', 'service-road'), 'path', 'path stands'),
    crossing: of.needed('crossing', oneOf('none', 'bridge', 'tunnel'), 'none', 'none stands'),
    onFoot: of.needed('onFoot', access, 'nobody', 'nobody stands until you say who may'),
    byVehicle: of.needed('byVehicle', access, 'nobody', 'nobody stands until you say who may'),
    ...(Object.keys(said).length === 0 ? {} : { saidMinutes: said }),
  };
}
