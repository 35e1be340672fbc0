import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EpochMs, WallMs } from '../units.js';
import {
  epochOfWall,
  parseOffsetMinutes,
  parseWallTime,
  subSecondMs,
  wallOccurrence,
  wallOfEpoch,
} from './wallTime.js';

const wallOf = (iso: string): WallMs => Date.parse(`${iso}Z`) as WallMs;
const instantOf = (iso: string): EpochMs => Date.parse(iso) as EpochMs;

describe('recorded text', () => {
  it('MS14: is read without any zone', () => {
    expect(parseWallTime('2026:05:30 14:23:07')).toEqual({ kind: 'wall', wall: wallOf('2026-05-30T14:23:07') });
  });

  // Exif 2.32 (CIPA DC-008), tag 9291: a decimal fraction; the two examples are those of CHECKS 7.
  it.each([
    ['45', 450],
    ['045', 45],
    ['00', 0],
    ['5', 500],
    ['262', 262],
    ['4567', 456.7],
    ['', 0],
    ['-1', 0],
  ])('MS14: sub-seconds %j are a decimal fraction: %d ms', (text, milliseconds) => {
    expect(subSecondMs(text)).toBe(milliseconds);
    expect(parseWallTime('2026:05:30 14:23:07', text)).toEqual({
      kind: 'wall',
      wall: wallOf('2026-05-30T14:23:07') + milliseconds,
    });
  });

  it.each([
    '0000:00:00 00:00:00',
    '2026:13:01 10:00:00',
    '2026:02:30 10:00:00',
    '2025:02:29 10:00:00',
    '2026:05:30 24:00:00',
    '2026:05:30 10:60:00',
    '2026:05:30 10:00:61',
    '1601:01:01 00:00:00',
    '30.05.2026 14:23:07',
    '2026:05:30',
  ])('MS5: %j is an impossible date and gives no time', (text) => {
    expect(parseWallTime(text)).toEqual({ kind: 'absent', reason: 'impossible-date' });
  });

  it('MS5: blanks are how Exif writes an unknown time, and are no date at all', () => {
    expect(parseWallTime('    :  :     :  :  ')).toEqual({ kind: 'absent', reason: 'no-capture-time' });
  });

  it('MS14: separators that some writers use are read', () => {
    expect(parseWallTime('2026-05-30T14:23:07')).toEqual(parseWallTime('2026:05:30 14:23:07'));
  });

  it('MS14: a leap day is a day in leap years only', () => {
    expect(parseWallTime('2024:02:29 12:00:00').kind).toBe('wall');
    expect(parseWallTime('1900:02:29 12:00:00').kind).toBe('absent');
  });

  it.each([
    ['+02:00', 120],
    ['-07:00', -420],
    ['+05:30', 330],
    ['Z', 0],
    ['   :  ', null],
    ['+25:00', null],
  ])('offset %j is %s minutes', (text, minutes) => {
    expect(parseOffsetMinutes(text)).toBe(minutes);
  });
});

/** Values of CHECKS 1.8: two Temporal implementations agreed on each (tzdata 2025c). */
describe('a wall time in a zone', () => {
  it('MS14: a time that London skips is read with the offset before the jump', () => {
    expect(epochOfWall(wallOf('2026-03-29T01:30:00'), 'Europe/London')).toBe(instantOf('2026-03-29T02:30:00+01:00'));
    expect(wallOccurrence(wallOf('2026-03-29T01:30:00'), 'Europe/London')).toBe('never');
  });

  it('MS14: a time that London has twice is the first of the two', () => {
    expect(epochOfWall(wallOf('2026-10-25T01:30:00'), 'Europe/London')).toBe(instantOf('2026-10-25T01:30:00+01:00'));
    expect(wallOccurrence(wallOf('2026-10-25T01:30:00'), 'Europe/London')).toBe('twice');
  });

  it('MS14: an ordinary time comes once', () => {
    expect(wallOccurrence(wallOf('2026-05-30T14:23:07'), 'Europe/London')).toBe('once');
  });

  it.each([
    ['Europe/London', '2026-03-29', 23],
    ['Europe/London', '2026-10-25', 25],
    ['Australia/Lord_Howe', '2026-04-05', 24.5],
  ])('MS14: in %s %s has %d hours', (zone, day, hours) => {
    const midnight = wallOf(`${day}T00:00:00`);
    const length = epochOfWall((midnight + 86_400_000) as WallMs, zone) - epochOfWall(midnight, zone);
    expect(length / 3_600_000).toBe(hours);
  });

  it('MS14: the day that Apia left out does not exist', () => {
    expect(wallOccurrence(wallOf('2011-12-30T12:00:00'), 'Pacific/Apia')).toBe('never');
  });

  it('MS14: Melbourne is eleven hours ahead on 25 October 2026', () => {
    expect(epochOfWall(wallOf('2026-10-25T12:00:00'), 'Australia/Melbourne')).toBe(
      instantOf('2026-10-25T12:00:00+11:00'),
    );
  });

  it('MS14: sub-seconds survive: 14:23:07.45 in Berlin is 12:23:07.45 UTC', () => {
    expect(epochOfWall(wallOf('2026-05-30T14:23:07.450'), 'Europe/Berlin')).toBe(instantOf('2026-05-30T12:23:07.45Z'));
  });

  it('MS14: there and back gives the same wall time wherever it exists', () => {
    const zones = fc.constantFrom('Europe/London', 'Australia/Lord_Howe', 'America/Denver', 'Asia/Kathmandu');
    const times = fc.integer({ min: Date.UTC(1995, 0, 1), max: Date.UTC(2037, 0, 1) });
    fc.assert(
      fc.property(zones, times, (zone, ms) => {
        const wall = ms as WallMs;
        fc.pre(wallOccurrence(wall, zone) !== 'never');
        expect(wallOfEpoch(epochOfWall(wall, zone), zone)).toBe(wall);
      }),
      { numRuns: 300 },
    );
  });

  it('an unknown zone is refused', () => {
    expect(() => epochOfWall(wallOf('2026-05-30T14:23:07'), 'Nowhere/Gannet_Point')).toThrow(RangeError);
  });
});
