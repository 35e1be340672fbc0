/** Zones of the IANA database, as far as this machine knows them. */
import { Temporal } from 'temporal-polyfill';

export function isKnownZone(zone: string): boolean {
  if (!/^[A-Za-z]/.test(zone)) return false;
  try {
    return Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone).timeZoneId !== '';
  } catch {
    return false;
  }
}

/** Longitude over which the zone's clock stands at noon by the sun, in winter: 15° an hour. */
export function middleLongitudeOf(zone: string): number {
  const offsets = [1, 7].map(
    (month) => Temporal.ZonedDateTime.from({ year: 2024, month, day: 1, timeZone: zone }).offsetNanoseconds / 3.6e12,
  );
  return 15 * Math.min(...offsets);
}
