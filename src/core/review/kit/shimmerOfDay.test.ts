import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../numeric/random.js';
import { shimmerOfDay } from './shimmerOfDay.js';
import { type BikeSpec, COMMANDS, judgedBike } from './testing.js';

/** With 400 mm a bike of 0.4 of the height is 54 m away, one of 0.8 is 27 m. */
const FAR = 0.4;
const NEAR = 0.8;

/** Sharpness that falls by a share each hour from 9 to 13, with livery's scatter of a tenth. */
function day(height: number, lossAnHour: number, { count = 40, hours = 4, from = 0, seed = 5 } = {}) {
  const random = seededRandom(seed + from);
  return Array.from({ length: count }, (_, at): BikeSpec => {
    const hour = 9 + (hours * at) / count;
    const alongY = 0.5 * (1 - lossAnHour) ** (hour - 9) * Math.exp(0.1 * random.normal());
    return { pass: from + at, height, hour, sharpness: { alongX: 0.2, alongY, alongDown: 0.2, alongUp: 0.2 } };
  });
}
const of = (specs: readonly BikeSpec[]) => shimmerOfDay(specs.map(judgedBike));

describe('heat shimmer by the hour', () => {
  it('PL817: far bikes that fall while near ones hold point to the air, by how much an hour and within which range', () => {
    const [record] = of([...day(FAR, 0.12), ...day(NEAR, 0, { from: 100 })]);
    expect(record!.points).toBe('to the air');
    expect(Math.exp(record!.far.from)).toBeLessThan(0.88);
    expect(Math.exp(record!.far.to)).toBeGreaterThan(0.88);
    expect(record!.sentence).toMatch(/sharpness −1\d % an hour/);
    expect(record!.evidence).toHaveLength(6);
  });

  it('PL817: where near ones fall as much it is not the air alone; without near ones it is open; where none fall it is nothing', () => {
    expect(of([...day(FAR, 0.12), ...day(NEAR, 0.12, { from: 100 })])[0]!.points).toBe('not to the air alone');
    expect(of(day(FAR, 0.12))[0]!.points).toBe('to air or focus');
    expect(of(day(FAR, 0))[0]!.points).toBe('to nothing');
  });

  it('PL817: whatever it points to, the sentence says what was seen and tells nobody what to do', () => {
    const all = [
      [...day(FAR, 0.12), ...day(NEAR, 0, { from: 100 })],
      [...day(FAR, 0.12), ...day(NEAR, 0.12, { from: 100 })],
      day(FAR, 0.12),
      day(FAR, 0),
    ].flatMap((specs) => of(specs));
    expect(new Set(all.map(({ points }) => points)).size).toBe(4);
    for (const { sentence } of all) expect(sentence).not.toMatch(COMMANDS);
  });

  it('PL818: fewer than twenty far passes, hours too few, and lenses of unknown angle get no line', () => {
    expect(of(day(FAR, 0.12, { count: 19 }))).toEqual([]);
    expect(of(day(FAR, 0.12, { hours: 1 }))).toEqual([]);
    expect(of(day(NEAR, 0.12))).toEqual([]);
  });

  it('PL818: another spot in the afternoon is not a fall', () => {
    const moved = [...day(FAR, 0), ...day(FAR, 0, { from: 100 })].map((one, at) =>
      at < 40
        ? { ...one, spot: 'morning' }
        : {
            ...one,
            spot: 'afternoon',
            hour: one.hour! + 4,
            sharpness: { ...one.sharpness, alongY: one.sharpness!.alongY! / 3 },
          },
    );
    expect(of(moved)[0]!.points).toBe('to nothing');
  });
});
