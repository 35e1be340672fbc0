import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SpotId } from '../../ids.js';
import { sunDay } from '../../numeric/solar.js';
import { type Degrees, type EpochMs, epochMsOf, type Metres, wallMsOf } from '../../units.js';
import type { SpotView } from '../circuit/types.js';
import { LIGHT_RULES, lightAt, lightOf } from './lightAt.js';
import { lightOfDay } from './lightOfDay.js';
import { highSun, lightRow, skyAt, sunRow, sunTrack, threadPx } from './rows.js';
import type { SkySpan, SpotLight, SunPosition } from './types.js';
import { lightWords } from './words.js';
import { worthOfLight } from './worth.js';

const deg = (value: number) => value as Degrees;
const metres = (value: number) => value as Metres;

/** Invented, in open sea. */
const PLACE = { latitudeDeg: deg(54.9), longitudeDeg: deg(1.5) };

interface ViewOptions {
  readonly view: number;
  readonly heading: number;
  readonly side?: 'left' | 'right' | 'both';
  readonly aspect?: SpotView['aspect'];
  readonly heightM?: number;
  readonly distanceM?: number;
}

const viewOf = ({
  view,
  heading,
  side = 'left',
  aspect = 'side-on',
  heightM,
  distanceM = 20,
}: ViewOptions): SpotView => ({
  spot: {
    id: 'gannet' as SpotId,
    number: 2,
    name: 'Gannet',
    place: PLACE,
    viewAzimuthDeg: deg(view),
    ...(heightM === undefined ? {} : { heightM: metres(heightM) }),
  },
  alongM: metres(0),
  distanceM: metres(distanceM),
  headingDeg: deg(heading),
  aspect,
  sideSeen: side,
  radiusM: null,
  moments: [],
});

const sun = (azimuth: number, altitude: number): SunPosition => ({
  azimuthDeg: deg(azimuth),
  altitudeDeg: deg(altitude),
});
const sunOf = (light: SpotLight) => {
  if (light.kind !== 'sun') throw new Error(`Expected sun, got ${light.kind}.`);
  return light;
};

/** 19 September 2026, 05:00 to 19:00 UTC. */
const FROM = epochMsOf(Date.UTC(2026, 8, 19, 5));
const TO = epochMsOf(Date.UTC(2026, 8, 19, 19));
const track = sunTrack(PLACE, FROM, TO);
/** Looks north over a straight that runs east: the bike's right side is to the lens. */
const north = viewOf({ view: 0, heading: 90, side: 'right' });

describe('light at a spot', () => {
  it('PL310: comes from the front with the sun behind the lens, from the back with the sun before it', () => {
    expect(sunOf(lightOf(north, sun(180, 20), 'clear'))).toMatchObject({ from: 'front' });
    expect(sunOf(lightOf(north, sun(180, 20), 'clear')).offLensDeg).toBeCloseTo(20, 9);
    expect(sunOf(lightOf(north, sun(0, 20), 'clear')).offLensDeg).toBeCloseTo(160, 9);
    expect(sunOf(lightOf(north, sun(0, 20), 'clear')).from).toBe('back');
    expect(sunOf(lightOf(north, sun(90, 20), 'clear'))).toMatchObject({ from: 'side' });
    expect(sunOf(lightOf(north, sun(90, 20), 'clear')).offLensDeg).toBeCloseTo(90, 9);
  });

  it('PL310: counts the height of sun and camera: a bank that looks down 45° has a sun of 45° straight behind', () => {
    const bank = viewOf({ view: 0, heading: 90, heightM: 10, distanceM: 10 });
    expect(sunOf(lightOf(bank, sun(180, 45), 'clear')).offLensDeg).toBeCloseTo(0, 4);
    expect(sunOf(lightOf(north, sun(180, 89.9), 'clear')).from).toBe('side');
  });

  it('PL311: falls on the side that looks to the sun, and only on that', () => {
    const left = viewOf({ view: 180, heading: 90, side: 'left' });
    // Going east, the left side looks north: away from a sun in the south.
    expect(sunOf(lightOf(left, sun(180, 30), 'clear')).onSide).toBeCloseTo(-Math.cos(Math.PI / 6), 9);
    expect(sunOf(lightOf(north, sun(180, 30), 'clear')).onSide).toBeCloseTo(Math.cos(Math.PI / 6), 9);
    const headOn = viewOf({ view: 270, heading: 90, side: 'both', aspect: 'head-on' });
    expect(sunOf(lightOf(headOn, sun(90, 0.5), 'clear')).onSide).toBeCloseTo(1, 3);
    const away = viewOf({ view: 90, heading: 90, side: 'both', aspect: 'going-away' });
    expect(sunOf(lightOf(away, sun(270, 0.5), 'clear')).onSide).toBeCloseTo(1, 3);
  });

  it('PL311: at three quarters the corner counts that is turned to the lens: half side, half front or tail', () => {
    // Sun on the horizon's edge so that only bearings count. The bike goes east.
    const onSide = (view: number, side: 'left' | 'right', azimuth: number) =>
      sunOf(lightOf(viewOf({ view, heading: 90, side, aspect: 'three-quarter' }), sun(azimuth, 0), 'clear')).onSide;
    // Coming, right side seen: the lens stands ahead of it to the south-east, and so does the sun that lights it straight on.
    expect(onSide(315, 'right', 135)).toBeCloseTo(1, 9);
    expect(onSide(315, 'right', 45)).toBeCloseTo(0, 9);
    // Going, right side seen: from the south-west. Left side: from the north.
    expect(onSide(45, 'right', 225)).toBeCloseTo(1, 9);
    expect(onSide(225, 'left', 45)).toBeCloseTo(1, 9);
    expect(onSide(135, 'left', 315)).toBeCloseTo(1, 9);
  });

  it('PL312: is low into the lens only below 12° and within 40° of the view', () => {
    const isInto = (azimuth: number, altitude: number) =>
      sunOf(lightOf(north, sun(azimuth, altitude), 'clear')).isLowIntoLens;
    expect(isInto(10, 8)).toBe(true);
    expect(isInto(10, 12)).toBe(false);
    expect(isInto(45, 8)).toBe(false);
    expect(isInto(180, 8)).toBe(false);
  });

  it('PL313: a shadow is as long as its thing at 45°, √3 as long at 30°, and without an end at the horizon', () => {
    const shadow = (altitude: number) => sunOf(lightOf(north, sun(200, altitude), 'clear')).shadowLength;
    expect(shadow(45)).toBeCloseTo(1, 9);
    expect(shadow(30)).toBeCloseTo(Math.sqrt(3), 9);
    expect(shadow(0.4)).toBeNull();
  });

  it('PL314: the sky is a person’s word: overcast is even, thin cloud keeps its direction, the later word stands', () => {
    expect(lightOf(north, sun(180, 30), 'overcast')).toEqual({ kind: 'even', sun: sun(180, 30) });
    expect(sunOf(lightOf(north, sun(180, 30), 'thin-cloud'))).toMatchObject({ from: 'front', isSoft: true });
    const skies: readonly SkySpan[] = [
      { from: FROM, to: TO, is: 'overcast' },
      { from: epochMsOf(FROM + 3_600_000), to: TO, is: 'clear' },
    ];
    expect(skyAt(skies, FROM)).toBe('overcast');
    expect(skyAt(skies, epochMsOf(FROM + 3_600_000))).toBe('clear');
    expect(skyAt(skies, TO)).toBeNull();
  });

  it('PL315: it is dark exactly while the sun is down', () => {
    const { rise, set } = sunDay(PLACE, wallMsOf(Date.UTC(2026, 8, 19)), 'UTC');
    if (rise.kind === 'none' || set.kind === 'none') throw new Error('no rise');
    const kindAt = (at: EpochMs, seconds: number) =>
      lightAt(north, PLACE, epochMsOf(at + seconds * 1000), 'clear').kind;
    expect([kindAt(rise.at, -60), kindAt(rise.at, 60)]).toEqual(['night', 'sun']);
    expect([kindAt(set.at, -60), kindAt(set.at, 60)]).toEqual(['sun', 'night']);
  });
});

describe('a spot’s row of light', () => {
  const everyView = fc.record({ view: fc.integer({ min: 0, max: 359 }), heading: fc.integer({ min: 0, max: 359 }) });

  it('PL316: its spans leave no gap, and each minute says the same as the light of that minute', () => {
    fc.assert(
      fc.property(everyView, (options) => {
        const view = viewOf(options);
        const row = lightRow(view, track, []);
        expect(row.spans[0]!.from).toBe(FROM);
        expect(row.spans.at(-1)!.to).toBe(TO);
        row.spans.slice(1).forEach((span, i) => {
          expect(span.from).toBe(row.spans[i]!.to);
        });
        track.positions.forEach((position, i) => {
          const at = FROM + i * track.stepMs;
          const light = lightOf(view, position, 'clear');
          const span = row.spans.find(({ from, to }) => from <= at && (at < to || to === TO))!;
          // The last minute ends the last span, whatever it is.
          if (at < TO) expect(span.is).toBe(light.kind === 'sun' ? light.from : light.kind);
          const isWithin = (spans: readonly { from: number; to: number }[]) =>
            spans.some(({ from, to }) => from <= at && at < to);
          if (light.kind !== 'sun' || at === TO) return;
          expect(isWithin(row.sideLit)).toBe(light.onSide > 0);
          expect(isWithin(row.intoLens)).toBe(light.isLowIntoLens);
          expect(isWithin(row.low)).toBe(light.sun.altitudeDeg < LIGHT_RULES.lowBelowDeg);
        });
      }),
      { numRuns: 25, seed: 3 },
    );
  });

  it('PL316: says where nobody spoke of the sky', () => {
    const noon = epochMsOf(Date.UTC(2026, 8, 19, 12));
    const row = lightRow(north, track, [{ from: noon, to: TO, is: 'overcast' }]);
    expect(row.spans.filter(({ is }) => is === 'even')).toEqual([
      expect.objectContaining({ from: noon, isSkySaid: true, shadowLength: [null, null] }),
    ]);
    expect(row.spans.filter(({ to, is }) => to <= noon && is !== 'night').every(({ isSkySaid }) => !isSkySaid)).toBe(
      true,
    );
  });

  it('PL317: threads are thin with the sun behind the lens, thick into it, broken below 12°, none at night', () => {
    const { threads, changes, words } = sunRow(north, track, []);
    expect(threads.map(({ kind }) => kind)).toEqual(['broken', 'whole', 'broken']);
    const noonShade = threads[1]!.points.reduce((thin, point) => (point.shade < thin.shade ? point : thin));
    expect(new Date(noonShade.at).getUTCHours()).toBe(11);
    for (const { at, shade } of threads.flatMap(({ points }) => points)) {
      const light = lightAt(north, PLACE, at, 'clear');
      if (light.kind === 'sun') expect(shade).toBeCloseTo((1 - Math.cos((light.offLensDeg * Math.PI) / 180)) / 2, 9);
    }
    expect(words.map(({ word }) => word)).toEqual(['side', 'front', 'side']);
    expect(changes).toHaveLength(4);
  });

  it('PL317: a row of 28 px has threads 4.4 px apart, from 0.35 px up, and paper between the thickest', () => {
    expect(threadPx(0, 28)).toEqual({ pitchPx: 4.4, thickPx: 0.35 });
    expect(threadPx(1, 28).thickPx).toBeCloseTo(4.4 - 0.35, 9);
  });

  it('PL317: the sun is high from the minute it stands at 12° to the one it leaves it', () => {
    const high = highSun(track)!;
    expect(sunRow(north, track, []).threads[1]).toMatchObject({ kind: 'whole' });
    expect(sunRow(north, track, []).threads[1]!.points[0]!.at).toBe(high.from);
    expect(
      highSun(sunTrack(PLACE, epochMsOf(Date.UTC(2026, 11, 21, 6)), epochMsOf(Date.UTC(2026, 11, 21, 9)))),
    ).toBeNull();
  });
});

describe('worth of a light', () => {
  const worthAt = (azimuth: number, altitude: number, sky: 'clear' | 'thin-cloud' | 'overcast' = 'clear') =>
    worthOfLight(lightOf(north, sun(azimuth, altitude), sky));

  it('PL318: a lit side is worth most, then even light, then a side in shade, then low sun into the lens, then night', () => {
    const worths = [worthAt(180, 30), worthAt(180, 30, 'overcast'), worthAt(0, 30), worthAt(0, 8), worthAt(0, -5)];
    expect([...worths].sort((a, b) => b - a)).toEqual(worths);
    expect(new Set(worths).size).toBe(5);
  });

  it('PL318: thin cloud brings every light nearer to even', () => {
    for (const azimuth of [0, 45, 90, 135, 180]) {
      const even = worthAt(azimuth, 30, 'overcast');
      expect(Math.abs(worthAt(azimuth, 30, 'thin-cloud') - even)).toBeLessThan(Math.abs(worthAt(azimuth, 30) - even));
    }
  });

  it('PL318: a sun high overhead is worth less than the same light on the side from lower down', () => {
    // The straight’s own light, with the sun so that the side is lit alike: cosine on it 0.4.
    const lit = (altitude: number) => {
      const off = (Math.acos(0.4 / Math.cos((altitude * Math.PI) / 180)) * 180) / Math.PI;
      return worthAt(180 + off, altitude);
    };
    expect(lit(50)).toBeCloseTo(lit(30), 9);
    expect(lit(60)).toBeLessThan(lit(50));
    expect(lit(65)).toBeCloseTo(lit(50) * 0.85, 9);
  });

  it('PL318: stays between 0 and 1, and does not jump but at the low sun', () => {
    for (let azimuth = 0; azimuth < 360; azimuth++) {
      const [a, b] = [worthAt(azimuth, 30), worthAt(azimuth + 1, 30)];
      expect(a).toBeGreaterThanOrEqual(0);
      expect(a).toBeLessThanOrEqual(1);
      expect(Math.abs(a - b)).toBeLessThan(0.05);
    }
  });
});

describe('the light of a day, by the clock on the wall', () => {
  const ZONE = 'Europe/London';
  const wall = (hour: number, minute = 0) => wallMsOf(Date.UTC(2026, 8, 19, hour, minute));
  const day = lightOfDay({
    views: [north],
    place: PLACE,
    zone: ZONE,
    from: wall(6),
    to: wall(20),
    skies: [{ from: wall(15), to: wall(16), is: 'overcast' }],
  });
  const gannet = north.spot.id;

  it('PL316: asks by wall time: summer time is an hour before UTC', () => {
    const at = epochMsOf(Date.UTC(2026, 8, 19, 11));
    expect(day.lightAt(gannet, wall(12))).toEqual(lightAt(north, PLACE, at, 'clear'));
    expect(day.lightAt(gannet, wall(15, 30))?.kind).toBe('even');
    expect(day.lightAt(gannet, wall(16))?.kind).toBe('sun');
    expect(day.sunRows[0]?.spot).toBe(gannet);
    expect(day.lightRows[0]?.spans[0]?.from).toBe(Date.UTC(2026, 8, 19, 5));
  });

  it('PL318: gives the solver a share with words, and nothing for a spot it does not know', () => {
    expect(day.shareAt(gannet, wall(12))).toEqual({ share: 1, words: 'light front' });
    expect(day.shareAt(gannet, wall(15, 30))).toEqual({ share: 0.75, words: 'light even' });
    expect(day.shareAt('nowhere' as SpotId, wall(12)).share).toBe(0);
    expect(day.lightAt(gannet, wall(23))).toBeNull();
  });

  it('PL319: tells a stay’s light, with what it turns into', () => {
    expect(day.wordsOver(gannet, wall(12), wall(13))).toBe('front');
    expect(day.wordsOver(gannet, wall(14, 30), wall(15, 10))).toBe('front, then even');
    expect(day.wordsOver('nowhere' as SpotId, wall(12), wall(13))).toBeNull();
  });
});

describe('light in words', () => {
  it('PL319: is short for the run sheet, and says why', () => {
    const words = lightWords(lightOf(north, sun(10, 8), 'clear'));
    expect(words.short).toBe('back, low sun into the lens');
    expect(words.reasons).toEqual([
      'The sun stands 8° high in the north. It is 167° off the line behind your lens.',
      'The side you see is in shade.',
      'Below 12° and within 40° of the view: flare, and you see little.',
      'Shadows are 7.1 times as long as what throws them.',
    ]);
    expect(lightWords(lightOf(north, sun(180, 60), 'thin-cloud')).short).toBe('front, sun high, soft');
    expect(lightWords(lightOf(north, sun(180, 60), 'overcast')).short).toBe('even');
    expect(lightWords(lightOf(north, sun(85, 30), 'clear')).short).toBe('side, in shade');
    expect(lightWords({ kind: 'night' }).short).toBe('dark');
  });
});
