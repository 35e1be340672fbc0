/** The line of the track from its feature: closed, and of three places at least. */
import { sayMetres } from '../placeWords.js';
import { distanceBetween } from '../segments.js';
import { planeAt, pointOf } from '../track.js';
import type { Place } from '../types.js';
import { called, type Feature } from './features.js';
import type { Say } from './members.js';

export interface Centreline {
  readonly feature: Feature;
  readonly places: readonly Place[];
}

export function centrelineOf(features: readonly Feature[], say: Say): Centreline | null {
  const [feature, ...others] = called(features, 'centreline', 'LineString', say);
  if (feature === undefined) {
    const found = features.length === 0 ? 'no features' : `${features.length} features of other roles or of none`;
    say({
      kind: 'no-centreline',
      sentence: `Expected a LineString whose property "role" is "centreline", but found ${found}. Give the line of the track this role, or bring the file in as a recording.`,
      at: features.slice(0, 1).flatMap(({ places }) => places.slice(0, 1)),
    });
    return null;
  }
  for (const other of others)
    say({
      kind: 'left-out',
      sentence: `${other.path} was left out: it is a second centreline. Join both into one line, or give it another role.`,
      at: other.places,
    });
  const places = closed(feature, say);
  if (distinct(places) >= 3) return { feature, places };
  say({
    kind: 'no-centreline',
    sentence: `Expected a centreline of three places and more, but ${feature.path} has ${distinct(places)} that differ. Draw it again.`,
    at: places,
  });
  return null;
}

const isSame = (a: Place, b: Place): boolean => a.longitudeDeg === b.longitudeDeg && a.latitudeDeg === b.latitudeDeg;
const distinct = (places: readonly Place[]): number =>
  new Set(places.map(({ longitudeDeg, latitudeDeg }) => `${longitudeDeg} ${latitudeDeg}`)).size;

/** The ring without its last place where that is the first again. */
function closed({ path, places }: Feature, say: Say): readonly Place[] {
  const [first, last] = [places[0]!, places.at(-1)!];
  if (isSame(first, last)) return places.slice(0, -1);
  const plane = planeAt(first);
  const gapM = distanceBetween(pointOf(plane, first), pointOf(plane, last));
  say({
    kind: 'closed-by-us',
    sentence: `The centreline (${path}) ends ${sayMetres(gapM)} from where it begins; it was closed with a straight piece. Look whether it is whole.`,
    at: [last, first],
  });
  return places;
}
