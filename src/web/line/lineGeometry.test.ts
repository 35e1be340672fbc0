import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type WallMs, wallMsOf } from '../../core/units.js';
import { clockWithTenthsOf, groundSegments, heightOf, hoursOf, lapOf, percentAt, skylinePath } from './lineGeometry.js';

const line = { from: wallMsOf(Date.parse('2026-09-19T08:00:00Z')), to: wallMsOf(Date.parse('2026-09-19T18:00:00Z')) };
const minute = (count: number): WallMs => wallMsOf(line.from + count * 60_000);

describe('the day line', () => {
  it('DK60: time runs left to right and nothing falls off either end', () => {
    expect(percentAt(line, minute(300))).toBe(50);
    expect(percentAt(line, minute(-30))).toBe(0);
    expect(percentAt(line, minute(900))).toBe(100);
    expect(hoursOf(line).map((hour) => hour.label)).toEqual([
      '08',
      '09',
      '10',
      '11',
      '12',
      '13',
      '14',
      '15',
      '16',
      '17',
    ]);
  });

  it('DK61: a divider is a gap in the ground, and the ground is otherwise whole', () => {
    expect(groundSegments(line, [minute(60), minute(120)])).toEqual([
      [0, 58.9],
      [61.1, 118.9],
      [121.1, 600],
    ]);
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 600, noNaN: true }), { maxLength: 30 }), (minutes) => {
        const segments = groundSegments(line, minutes.map(minute));
        for (const [i, [from, to]] of segments.entries()) {
          expect(to).toBeGreaterThan(from);
          if (i > 0) expect(from).toBeGreaterThan(segments[i - 1]![1]);
          for (const at of minutes) expect(at > from && at < to).toBe(false);
        }
      }),
    );
  });

  it('DK62: a minute has a bar where it has frames, higher with more, and frames that wait stand on measured ones', () => {
    expect(skylinePath([0, 0, 0], 5)).toBe('');
    expect(skylinePath([4, 0, 1], 4)).toBe('M0.12 100.0V0.0H0.88V100.0ZM2.12 100.0V50.0H2.88V100.0Z');
    expect(skylinePath([3], 4, [1])).toBe('M0.12 50.0V0.0H0.88V50.0Z');
    expect(heightOf(9, 16)).toBeGreaterThan(heightOf(4, 16));
  });

  it('DK63: laps and times are written as on a timing sheet', () => {
    expect(lapOf(112_500)).toBe('1:52.5');
    expect(lapOf(61_040)).toBe('1:01.0');
    expect(clockWithTenthsOf(Date.parse('2026-09-19T10:43:12.450Z'))).toBe('10:43:12.4');
  });
});
