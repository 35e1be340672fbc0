import {
  Body,
  Equator,
  EquatorFromVector,
  GeoVector,
  MakeTime,
  Observer,
  RotateVector,
  Rotation_EQJ_EQD,
  SiderealTime,
  SunPosition,
} from 'astronomy-engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gridErrors, minuteErrors, readSunTables, secondErrors } from '../../../tools/accuracy/sunErrors.js';
import { epochMsOf, wallMsOf } from '../units.js';
import { refractionDeg, type SunDay, sunAt, sunDay } from './solar.js';
import { wallOfEpoch } from './wallTime.js';

const tables = readSunTables();
const midnight = (date: string) => wallMsOf(Date.parse(`${date}T00:00:00Z`));
const clockOf = (event: SunDay['rise'], zone: string): string => {
  if (event.kind === 'none') return event.reason;
  return new Date(wallOfEpoch(event.at, zone)).toISOString().slice(0, 19);
};

describe('the sun', () => {
  it('PL300: stands within 0.1° of NREL SPA at 245 positions, and in fact within 0.001°', () => {
    const errors = gridErrors(tables);
    expect(errors).toHaveLength(245);
    expect(errors.filter(({ seenDeg }) => seenDeg !== null).length).toBeGreaterThan(120);
    for (const { what, airlessDeg, seenDeg, azimuthDeg } of errors) {
      expect(airlessDeg, what).toBeLessThan(0.001);
      expect(seenDeg ?? 0, what).toBeLessThan(0.001);
      expect(azimuthDeg, what).toBeLessThan(0.001);
    }
  });

  it('PL300: gives the worked example of NREL/TP-560-34302 in its own thin air', () => {
    const {
      utc,
      pressureHPa,
      temperatureC,
      e0,
      e,
      refractionDeg: theirs,
      zenithDeg,
      azimuthDeg,
      ...place
    } = tables.spaWorked;
    const sun = sunAt(place, epochMsOf(Date.parse(utc)), { pressureHPa, temperatureC });
    expect(Math.abs(sun.airlessAltitudeDeg - e0)).toBeLessThan(0.0005);
    expect(Math.abs(sun.altitudeDeg - e)).toBeLessThan(0.0005);
    expect(Math.abs(90 - sun.altitudeDeg - zenithDeg)).toBeLessThan(0.0005);
    expect(Math.abs(sun.azimuthDeg - azimuthDeg)).toBeLessThan(0.0005);
    expect(refractionDeg(e0, { pressureHPa, temperatureC })).toBeCloseTo(theirs, 5);
    // In air of sea level, which is taken where nobody says otherwise, 0.23′ higher.
    expect((sunAt(place, epochMsOf(Date.parse(utc))).altitudeDeg - e) * 60).toBeCloseTo(0.23, 1);
  });

  it('PL301: rises, culminates and sets within a minute of NREL’s tables, each on its local date', () => {
    const errors = secondErrors(tables);
    expect(errors).toHaveLength(14);
    for (const { what, seconds } of errors) expect(seconds, what).toBeLessThan(3);
  });

  it('PL301: reads the same minutes as the US Naval Observatory, all 24', () => {
    const errors = minuteErrors(tables);
    expect(errors).toHaveLength(24);
    expect(errors.filter(({ seconds }) => seconds > 0)).toEqual([]);
  });

  it('PL301: sets on the local date asked for, where a table by UT dates gives the evening before', () => {
    const { latitudeDeg, longitudeDeg } = tables.spaWorked;
    const setOf = (date: string) =>
      clockOf(sunDay({ latitudeDeg, longitudeDeg }, midnight(date), 'Etc/GMT+7').set, 'Etc/GMT+7');
    // NREL/TP-560-34302 prints 17:20:19 beside 17 October; it is the set of the 16th.
    expect(setOf('2003-10-16')).toBe('2003-10-16T17:20:18');
    expect(setOf('2003-10-17')).toBe('2003-10-17T17:18:51');
  });

  it('PL302: says why where it does not rise or set', () => {
    const far = { latitudeDeg: 80, longitudeDeg: 15 };
    expect(sunDay(far, midnight('2026-06-21'), 'UTC')).toMatchObject({
      rise: { kind: 'none', reason: 'up-all-day' },
      set: { kind: 'none', reason: 'up-all-day' },
    });
    expect(sunDay(far, midnight('2026-12-21'), 'UTC').rise).toEqual({ kind: 'none', reason: 'down-all-day' });
  });

  it('PL302: keeps a day of 23 or 25 hours whole, and a date its zone left out has no noon', () => {
    const london = { latitudeDeg: 51.5, longitudeDeg: 0 };
    for (const [date, noon] of [
      ['2026-03-29', '13:0'],
      ['2026-10-25', '11:4'],
    ] as const) {
      const at = sunDay(london, midnight(date), 'Europe/London').noon;
      expect(at).not.toBeNull();
      expect(new Date(wallOfEpoch(at!, 'Europe/London')).toISOString()).toContain(`${date}T${noon}`);
    }
    expect(
      sunDay({ latitudeDeg: -13.8, longitudeDeg: -171.8 }, midnight('2011-12-30'), 'Pacific/Apia').noon,
    ).toBeNull();
  });

  it('PL302: stands highest at noon and on the horizon when it rises and sets', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.integer({ min: 0, max: 3650 }),
        (latitudeDeg, longitudeDeg, day) => {
          const place = { latitudeDeg, longitudeDeg };
          const zone = `Etc/GMT${longitudeDeg < 0 ? '+' : '-'}${Math.round(Math.abs(longitudeDeg) / 15)}`;
          const { rise, noon, set } = sunDay(place, wallMsOf(Date.UTC(2020, 0, 1 + day)), zone);
          if (noon === null) throw new Error('no noon');
          const top = sunAt(place, noon).airlessAltitudeDeg;
          for (const minutes of [-20, 20])
            expect(sunAt(place, epochMsOf(noon + minutes * 60_000)).airlessAltitudeDeg).toBeLessThan(top);
          for (const event of [rise, set])
            if (event.kind === 'at') expect(sunAt(place, event.at).airlessAltitudeDeg).toBeCloseTo(-50 / 60, 1);
        },
      ),
      { numRuns: 60, seed: 5 },
    );
  });
});

describe('refraction', () => {
  it('PL303: is that of Meeus, example 16.a', () => {
    // Lower edge seen at 0°30′: Bennett's formula (16.3) lifts by 28.754′, so it stands truly at 1.246′ and, the disc being
    // 32′, the upper edge at 33.246′, which Sæmundsson's (16.4) lifts by 24.618′.
    const bennett = 1 / Math.tan(((0.5 + 7.31 / (0.5 + 4.4)) * Math.PI) / 180);
    expect(bennett).toBeCloseTo(28.754, 3);
    expect(30 - bennett + 32).toBeCloseTo(33.246, 3);
    expect(refractionDeg(33.246 / 60) * 60).toBeCloseTo(24.618, 3);
  });

  it('PL303: undoes Bennett’s to a tenth of a minute above the horizon', () => {
    // Meeus says of the two that they agree within 0.1′.
    for (let h = 0; h <= 89; h += 0.5) {
      const seen = h + refractionDeg(h);
      const bennett = 1 / Math.tan(((seen + 7.31 / (seen + 4.4)) * Math.PI) / 180);
      expect(Math.abs(refractionDeg(h) * 60 - bennett), `${h}°`).toBeLessThan(0.1);
    }
  });

  it('PL303: is what other libraries’ standard air gives', () => {
    expect(refractionDeg(0) * 60).toBeCloseTo(28.98, 1);
    expect(refractionDeg(10) * 60).toBeCloseTo(5.408, 2);
    expect(refractionDeg(45) * 60).toBeCloseTo(1.013, 2);
  });

  it('PL303: fades out below the horizon without a step', () => {
    expect(refractionDeg(-90)).toBe(0);
    expect(refractionDeg(-1.001)).toBeCloseTo(refractionDeg(-0.999), 3);
  });
});

/** J. Meeus, "Astronomical Algorithms", 2nd ed. 1998: what the positions rest on. */
describe('the library under it', () => {
  const seconds = (hours: number, h: number, m: number, s: number) => Math.abs(hours - (h + m / 60 + s / 3600)) * 3600;
  /** Terrestrial time to the library's instant: ΔT of 1992 was 59 s. */
  const october = MakeTime(new Date(Date.UTC(1992, 9, 13) - 59_000));
  const sunOfDate = () =>
    EquatorFromVector(RotateVector(Rotation_EQJ_EQD(october), GeoVector(Body.Sun, october, true)));

  it('PL300: has the sun of examples 25.a and 25.b', () => {
    const { ra, dec, dist } = sunOfDate();
    // 25.b, full VSOP87: α 13h13m30.749s, δ −7°47′01.74″.
    expect(seconds(ra, 13, 13, 30.749)).toBeLessThan(0.1);
    expect(Math.abs(dec + (7 + 47 / 60 + 1.74 / 3600)) * 3600).toBeLessThan(1);
    // 25.a, low accuracy (0.01°): apparent longitude 199°54′32″, R 0.99766, α 13h13m31.4s, δ −7°47′06″.
    expect(Math.abs(SunPosition(october).elon - (199 + 54 / 60 + 32 / 3600))).toBeLessThan(0.01);
    expect(Math.abs(dist - 0.99766)).toBeLessThan(1e-4);
    expect(seconds(ra, 13, 13, 31.4)).toBeLessThan(2.4);
  });

  it('PL300: has the equation of time of example 28.b', () => {
    const { ra } = sunOfDate();
    const hourAngle = SiderealTime(october) - ra;
    const meanHourAngle = ((october.ut + 0.5) % 1) * 24 - 12;
    const minutes = ((((hourAngle - meanHourAngle + 12) % 24) + 24) % 24) - 12;
    expect(minutes * 3600).toBeGreaterThan(13 * 60 + 42);
    expect(minutes * 3600).toBeLessThan(13 * 60 + 43.4);
  });

  it('PL300: has the sidereal time of examples 12.a and 12.b, and the Julian days of 7.a', () => {
    const april = MakeTime(new Date(Date.UTC(1987, 3, 10)));
    expect(seconds(SiderealTime(april), 13, 10, 46.1351)).toBeLessThan(0.05);
    const evening = MakeTime(new Date(Date.UTC(1987, 3, 10, 19, 21)));
    // 12.b is mean time; that evening's equation of the equinoxes is −0.2317 s, as in 12.a.
    expect(seconds(SiderealTime(evening), 8, 34, 57.0896 - 0.2317)).toBeLessThan(0.05);
    expect(MakeTime(new Date(Date.UTC(2000, 0, 1, 12))).ut).toBe(0);
    expect(MakeTime(new Date(Date.UTC(1957, 9, 4, 19, 26, 24))).ut + 2451545).toBeCloseTo(2436116.31, 6);
  });

  it('PL300: puts the place on the ground, not the middle of the Earth', () => {
    const observer = new Observer(40, 0, 0);
    const parallax = (Equator(Body.Sun, october, observer, true, true).dec - sunOfDate().dec) * 3600;
    // Solar parallax, 8.794″ at most.
    expect(Math.abs(parallax)).toBeGreaterThan(1);
    expect(Math.abs(parallax)).toBeLessThan(8.8);
  });
});
