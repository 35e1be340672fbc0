/**
 * Where the sun stands over a place, and when it rises, stands highest and sets on a date of the place's own calendar.
 *
 * Source of the positions: astronomy-engine 2.1.19 (truncated VSOP87 for the Earth, IAU 2000B nutation cut short, its own ΔT;
 * topocentric, aberration in). Refraction: Sæmundsson's formula, in J. Meeus, "Astronomical Algorithms", 2nd ed. 1998, eq. 16.4,
 * with the factor for pressure and temperature of the same chapter, which is also that of NREL/TP-560-34302, eq. 42. Where nobody
 * says otherwise the air is that of 16.4: 1010 hPa and 10 °C; thinner air bends less, at 820 hPa and 0° by 0.09°, above 10° by
 * less than 0.02°. Rising and setting as almanacs have
 * them: upper edge on a level horizon, 34′ of refraction, at sea level (in the thinner air of 1,800 m it is half a minute later
 * and earlier).
 *
 * Accuracy, against NREL SPA: 0.001° in both angles above 1°, 4 s in rise and set at middle latitudes; the edge of the
 * disc stands 2′ or more elsewhere in real air, so more would mean nothing. From 1900 to 2100.
 * Azimuths from north, clockwise; instants are UTC (UT1 taken as UTC, 0.9 s at most).
 */
import { Body, Equator, Horizon, Observer, SearchHourAngle, SearchRiseSet } from 'astronomy-engine';
import { type Degrees, type EpochMs, epochMsOf, type WallMs } from '../units.js';
import { epochOfWall } from './wallTime.js';

export interface SunPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly elevationM?: number;
}

export interface Air {
  readonly pressureHPa: number;
  readonly temperatureC: number;
}

export interface SunAngles {
  /** From north, clockwise. */
  readonly azimuthDeg: Degrees;
  /** Of the middle of the disc, as seen through the air. */
  readonly altitudeDeg: Degrees;
  /** The same without air. */
  readonly airlessAltitudeDeg: Degrees;
}

/** Air for which eq. 16.4 stands as printed. */
const PRINTED_AIR: Air = { pressureHPa: 1010, temperatureC: 10 };
/** Eq. 16.4 is for what can be seen; further down the refraction at this altitude is kept, fading out at the nadir. */
const LOWEST_FOR_REFRACTION_DEG = -1;
const ZERO_C_IN_K = 273;
const RAD = Math.PI / 180;
const DAY_MS = 86_400_000;

const observerOf = ({ latitudeDeg, longitudeDeg, elevationM = 0 }: SunPlace) =>
  new Observer(latitudeDeg, longitudeDeg, elevationM);

/** By how many degrees the air lifts what stands at an airless altitude. Meeus 16.4, NREL/TP-560-34302 eq. 42. */
export const refractionDeg = (airlessAltitudeDeg: number, air: Air = PRINTED_AIR): number => {
  const h = Math.max(LOWEST_FOR_REFRACTION_DEG, airlessAltitudeDeg);
  const R = 1.02 / Math.tan((h + 10.3 / (h + 5.11)) * RAD) / 60;
  const ofAir = (air.pressureHPa / 1010) * (283 / (ZERO_C_IN_K + air.temperatureC));
  const below = (airlessAltitudeDeg + 90) / (LOWEST_FOR_REFRACTION_DEG + 90);
  return R * ofAir * Math.min(1, below);
};

export const sunAt = (place: SunPlace, at: EpochMs, air?: Air): SunAngles => {
  const observer = observerOf(place);
  const time = new Date(at);
  const { ra, dec } = Equator(Body.Sun, time, observer, true, true);
  const { azimuth, altitude } = Horizon(time, observer, ra, dec);
  return {
    azimuthDeg: azimuth as Degrees,
    altitudeDeg: (altitude + refractionDeg(altitude, air)) as Degrees,
    airlessAltitudeDeg: altitude as Degrees,
  };
};

/** `not-on-this-date`: near the polar circles a day may hold only one of the two. */
export type SunEvent =
  | { readonly kind: 'at'; readonly at: EpochMs }
  | { readonly kind: 'none'; readonly reason: 'up-all-day' | 'down-all-day' | 'not-on-this-date' };

export interface SunDay {
  readonly rise: SunEvent;
  /** Where the sun stands highest. A date that the zone left out has none. */
  readonly noon: EpochMs | null;
  readonly set: SunEvent;
}

/**
 * Rise, noon and set between one midnight and the next of `zone`. `midnight` is the wall reading at which the date begins.
 * West of Greenwich the evening of a local date belongs to the next date of UT: a table by UT dates gives another evening.
 */
export const sunDay = (place: SunPlace, midnight: WallMs, zone: string): SunDay => {
  const observer = observerOf({ ...place, elevationM: 0 });
  const from = epochOfWall(midnight, zone);
  const to = epochOfWall((midnight + DAY_MS) as WallMs, zone);
  const days = (to - from) / DAY_MS;
  const within = (ms: number | undefined): EpochMs | null => (ms !== undefined && ms < to ? epochMsOf(ms) : null);
  const find = (direction: 1 | -1) =>
    within(SearchRiseSet(Body.Sun, observer, direction, new Date(from), days)?.date.getTime());
  const noon = within(SearchHourAngle(Body.Sun, observer, 0, new Date(from)).time.date.getTime());
  const rise = find(1);
  const set = find(-1);
  const isUp = sunAt(place, noon ?? from).altitudeDeg > 0;
  const reason =
    rise !== null || set !== null
      ? ('not-on-this-date' as const)
      : isUp
        ? ('up-all-day' as const)
        : ('down-all-day' as const);
  const eventOf = (at: EpochMs | null): SunEvent => (at === null ? { kind: 'none', reason } : { kind: 'at', at });
  return { rise: eventOf(rise), noon, set: eventOf(set) };
};
