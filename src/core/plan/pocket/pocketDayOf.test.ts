import { expect, it } from 'vitest';
import { zlibSqueezer } from '../../../host/pocket/squeezer.js';
import type { Degrees } from '../../units.js';
import type { SpotLight } from '../light/types.js';
import { runSheet } from '../sheet/runSheet.js';
import { handMadeDay } from '../sheet/testing/handMadeDay.js';
import { codeOfDay, type PocketInput, pocketDayOf, readCode, type Watched } from './index.js';

const rider = (at: number): Watched => ({
  words: `rider ${at}`,
  riderTag: `0000${10 + at}`,
  bike: ['red'],
  isNeverSeen: false,
});
const sun = (isLowIntoLens: boolean): SpotLight => ({
  kind: 'sun',
  sun: { azimuthDeg: 180 as Degrees, altitudeDeg: 31.6 as Degrees },
  offLensDeg: 40 as Degrees,
  from: 'side',
  onSide: 0.4,
  isLowIntoLens,
  shadowLength: 1.6,
  isSoft: false,
});
const sheet = runSheet(handMadeDay());
const HOUR_MS = 3_600_000;
const inputOf = (more: Partial<PocketInput> = {}): PocketInput => ({
  sheet,
  eastMin: 60,
  slipRule: 'clock-fixed',
  lightAt: (_, at) => sun(at >= sheet.day + 16.5 * HOUR_MS),
  watchAt: ({ spot }) => Array.from({ length: 11 }, (_, at) => rider(at + spot.number)),
  toGetAt: () => ({ riders: 4, of: 31, neverSeen: 1 }),
  ...more,
});

it('PL709: every stay, slot and way of the run sheet goes into the pocket, and comes out of its code', async () => {
  const day = pocketDayOf(inputOf());
  const rows = sheet.rows.flatMap((row) => (row.kind === 'stay' ? [row] : []));
  expect(rows.length).toBeGreaterThan(4);
  expect(day.stays.map(({ spot }) => spot)).toEqual(rows.map(({ spot }) => spot.id));
  expect(day.stays.map(({ fromMin }) => sheet.day + fromMin * 60_000)).toEqual(rows.map(({ from }) => from));
  expect(day.stays.map(({ sure }) => sure)).toEqual(rows.map(({ sure }) => sure ?? undefined));
  expect(day.slots).toHaveLength(sheet.slots.length);
  const ways = sheet.rows.filter((row, at) => row.kind === 'way' && sheet.rows[at + 1]?.kind === 'stay').length;
  expect(day.stays.filter(({ wayMin }) => wayMin > 0)).toHaveLength(ways);
  expect(ways).toBeGreaterThan(2);
  const read = await readCode((await codeOfDay(day, zlibSqueezer)).code, zlibSqueezer);
  expect(read).toMatchObject({ kind: 'day', day });
});

it('PL709: eight riders at most at a stay, each carried once; low sun from its minute; no light where none is known', () => {
  const day = pocketDayOf(inputOf());
  for (const { watch } of day.stays) expect(watch).toHaveLength(8);
  expect(new Set(day.watch.map(({ riderTag }) => riderTag)).size).toBe(day.watch.length);
  expect(day.watch.length).toBeLessThan(16);
  const last = day.stays.at(-1)!;
  expect(last.light).toEqual({ kind: 'sun', from: 'side', altitudeDeg: 32, lowFromMin: 16 * 60 + 30 });
  expect(pocketDayOf(inputOf({ lightAt: () => null })).stays[0]!.light).toEqual({ kind: 'not-known' });
});
