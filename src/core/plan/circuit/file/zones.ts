/** Zones of the IANA database, and whether a circuit can lie where its zone is kept. */
import { Temporal } from 'temporal-polyfill';
import { sayPlace } from '../placeWords.js';
import type { Place } from '../types.js';
import type { Say } from './members.js';

function isKnownZone(zone: string): boolean {
  if (!/^[A-Za-z]/.test(zone)) return false;
  try {
    return Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone).timeZoneId !== '';
  } catch {
    return false;
  }
}

/** Longitude over which the zone's clock stands at noon by the sun, in winter: 15° an hour. */
function middleLongitudeOf(zone: string): number {
  const offsets = [1, 7].map(
    (month) => Temporal.ZonedDateTime.from({ year: 2024, month, day: 1, timeZone: zone }).offsetNanoseconds / 3.6e12,
  );
  return 15 * Math.min(...offsets);
}

/** UTC where it is none. */
export function zoneOf(zone: string, at: readonly Place[], say: Say): string {
  if (isKnownZone(zone)) return zone;
  say({
    kind: 'unknown-zone',
    sentence: `Expected a zone of the IANA database such as Europe/London, but found "${zone}"; UTC stands until you say one.`,
    at,
  });
  return 'UTC';
}

/** Hours of the zone and degrees of the place may differ by so much; swapped they must agree better to be suspected. */
const ZONE_APART_DEG = 40;
const ZONE_NEAR_DEG = 25;

/** Both orders are on Earth, but only the other one lies under the zone's clock: said, not changed. */
export function sayOddZone(zone: string, place: Place, say: Say, mend = 'write longitude first'): void {
  if (zone === 'UTC') return;
  const { longitudeDeg, latitudeDeg } = place;
  const apartFrom = (deg: number): number => Math.abs(((deg - middleLongitudeOf(zone) + 540) % 360) - 180);
  const isOdd = Math.abs(longitudeDeg) <= 90 && apartFrom(longitudeDeg) > ZONE_APART_DEG;
  if (!isOdd || apartFrom(latitudeDeg) > ZONE_NEAR_DEG) return;
  say({
    kind: 'swapped',
    sentence: `The line lies at ${sayPlace(place)}, far from where ${zone} is kept; with latitude and longitude the other way round it would not. If they are swapped, ${mend}; if not, correct the zone. Nothing was changed.`,
    at: [place],
  });
}
