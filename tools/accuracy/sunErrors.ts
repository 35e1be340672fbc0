/** The sun of this program held against published tables: one comparison for the tests and for the report. */
import { readFileSync } from 'node:fs';
import { type SunEvent, type SunPlace, sunAt, sunDay } from '../../src/core/numeric/solar.js';
import { wallOfEpoch } from '../../src/core/numeric/wallTime.js';
import { type EpochMs, epochMsOf, wallMsOf } from '../../src/core/units.js';

interface Event {
  readonly rise?: string;
  readonly noon?: string;
  readonly set?: string;
}

export interface SunTables {
  readonly spaGrid: { readonly places: readonly (SunPlace & { readonly rows: readonly GridRow[] })[] };
  readonly spaWorked: SunPlace & {
    readonly utc: string;
    readonly pressureHPa: number;
    readonly temperatureC: number;
    readonly e0: number;
    readonly refractionDeg: number;
    readonly e: number;
    readonly zenithDeg: number;
    readonly azimuthDeg: number;
  };
  readonly toTheSecond: {
    readonly rows: readonly (SunPlace & Event & { readonly date: string; readonly zone: string })[];
  };
  readonly toTheMinute: {
    readonly places: readonly (SunPlace & {
      readonly zone: string;
      readonly rows: readonly [string, string, string][];
    })[];
  };
}

/** UTC, airless altitude, azimuth, refracted zenith angle. */
type GridRow = readonly [utc: string, e0: number, azimuth: number, zenithRefracted: number];

const fixture = new URL('../../test/fixtures/sun.json', import.meta.url);
export const readSunTables = (): SunTables => JSON.parse(readFileSync(fixture, 'utf8')) as SunTables;

/** Air of the grid. */
const GRID_AIR = { pressureHPa: 1013.25, temperatureC: 15 };
/** Below this the grid's refraction is switched off at a step, ours fades: only what can be seen is compared. */
const SEEN_FROM_DEG = -0.83;
const RAD = Math.PI / 180;
const DAY_MS = 86_400_000;

export interface AngleError {
  readonly what: string;
  /** Altitude without air. */
  readonly airlessDeg: number;
  /** Altitude with refraction; null below the horizon. */
  readonly seenDeg: number | null;
  /** Of azimuth, on the sky: times the cosine of the altitude. */
  readonly azimuthDeg: number;
}

export const gridErrors = ({ spaGrid }: SunTables): readonly AngleError[] =>
  spaGrid.places.flatMap((place) =>
    place.rows.map(([utc, e0, azimuth, zenith]) => {
      const sun = sunAt(place, epochMsOf(Date.parse(utc)), GRID_AIR);
      return {
        what: `${utc} at ${place.latitudeDeg}, ${place.longitudeDeg}`,
        airlessDeg: Math.abs(sun.airlessAltitudeDeg - e0),
        seenDeg: e0 > SEEN_FROM_DEG ? Math.abs(90 - zenith - sun.altitudeDeg) : null,
        azimuthDeg: Math.abs(turnOf(sun.azimuthDeg - azimuth)) * Math.cos(e0 * RAD),
      };
    }),
  );

/** Into ±180. */
const turnOf = (degrees: number): number => ((((degrees + 180) % 360) + 360) % 360) - 180;

export interface TimeError {
  readonly what: string;
  readonly ours: string;
  readonly theirs: string;
  readonly seconds: number;
}

export const secondErrors = ({ toTheSecond }: SunTables): readonly TimeError[] =>
  toTheSecond.rows.flatMap((row) => {
    const day = dayOf(row, row.date, row.zone);
    return (['rise', 'noon', 'set'] as const).flatMap((event) => {
      const theirs = row[event];
      return theirs === undefined ? [] : [timeError(`${event} of ${row.date}`, day[event], theirs, row.date, row.zone)];
    });
  });

/** Against a table of whole minutes: seconds beyond what rounding to the minute explains; 0 where it reads the same. */
export const minuteErrors = ({ toTheMinute }: SunTables): readonly TimeError[] =>
  toTheMinute.places.flatMap(({ zone, rows, ...place }) =>
    rows.flatMap(([date, rise, set]) => {
      const day = dayOf(place, date, zone);
      return [
        timeError(`rise of ${date}`, day.rise, rise, date, zone),
        timeError(`set of ${date}`, day.set, set, date, zone),
      ].map((error) => ({ ...error, seconds: Math.max(0, error.seconds - 30) }));
    }),
  );

const midnightOf = (date: string): number => Date.parse(`${date}T00:00:00Z`);

const dayOf = (place: SunPlace, date: string, zone: string): Readonly<Record<'rise' | 'noon' | 'set', EpochMs>> => {
  const { rise, noon, set } = sunDay(place, wallMsOf(midnightOf(date)), zone);
  if (noon === null) throw new Error(`Expected a noon on ${date} in ${zone}; the date has none.`);
  return { rise: timeOf(rise, date), noon, set: timeOf(set, date) };
};

const timeOf = (event: SunEvent, date: string): EpochMs => {
  if (event.kind === 'at') return event.at;
  throw new Error(`Expected the sun to rise and set on ${date}, but it is ${event.reason}.`);
};

const timeError = (what: string, at: EpochMs, theirs: string, date: string, zone: string): TimeError => {
  const ours = wallOfEpoch(at, zone) - midnightOf(date);
  const [hours = 0, minutes = 0, seconds = 0] = theirs.split(':').map(Number);
  const expected = ((hours * 60 + minutes) * 60 + seconds) * 1000;
  return { what, ours: clock(ours), theirs, seconds: Math.abs(ours - expected) / 1000 };
};

const clock = (ms: number): string => new Date(((ms % DAY_MS) + DAY_MS) % DAY_MS).toISOString().slice(11, 21);
