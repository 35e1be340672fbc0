import { describe, expect, it } from 'vitest';
import type { Arrangement } from '../../arrange/types.js';
import type { FrameId } from '../../ids.js';
import type { FrameMeasurement } from '../../measure/types.js';
import { seededRandom } from '../../numeric/random.js';
import { clockDrifts } from './clockDrift.js';

const HOUR_MS = 3_600_000;
const FIRST = 'Maker|M1|1';
const SECOND = 'Maker|M2|2';

const frame = (body: string, hour: number, errorS: number, role = 'divider') => ({
  frameId: `${body} ${hour}` as FrameId,
  body,
  role,
  recorded: hour * HOUR_MS + 1000 * errorS,
  wall: hour * HOUR_MS + 1000 * errorS,
});
const arranged = (exposures: readonly ReturnType<typeof frame>[]) => ({ exposures }) as unknown as Arrangement;
const none: ReadonlyMap<FrameId, FrameMeasurement> = new Map();

/** Every twenty minutes from nine both take the sky, the second some seconds later by hand. */
function bothBodies(driftS: number, count = 24) {
  const random = seededRandom(3);
  return Array.from({ length: count }, (_, at) => 9 + at / 3).flatMap((hour) => [
    frame(FIRST, hour, 0),
    frame(SECOND, hour, random.between(2, 5) + driftS * (hour - 9)),
  ]);
}

describe('drift between clocks', () => {
  it('PL830: a body that runs fast is told by dividers of both, in seconds an hour, with its range and first and last frames', () => {
    const [record, ...others] = clockDrifts(arranged(bothBodies(1)), none);
    expect(others).toEqual([]);
    expect(record).toMatchObject({ body: SECOND, against: FIRST });
    expect(record!.drift.from).toBeLessThan(1);
    expect(record!.drift.to).toBeGreaterThan(1);
    expect(record!.sentence).toMatch(
      /^Maker M2 2 gains [01]\.\d s an hour .* against Maker M1 1, over 24 dividers of both\.$/,
    );
    expect(record!.evidence.map(({ frameId }) => frameId)).toHaveLength(4);
  });

  it('PL830: two that keep time are told so; with few dividers of both, or few hours, nothing is told', () => {
    expect(clockDrifts(arranged(bothBodies(0)), none)[0]!.sentence).toContain('keeps time with');
    expect(clockDrifts(arranged(bothBodies(1, 6)), none)).toEqual([]);
    expect(clockDrifts(arranged(bothBodies(1).map((one) => ({ ...one, role: 'bike' }))), none)).toEqual([]);
  });

  it('PL831: two clock cards two hours apart tell it alone, to a second either way', () => {
    const frames = [frame(FIRST, 9, 3600, 'scenery'), frame(FIRST, 13, 3608, 'scenery')];
    const cards = new Map(
      frames.map(({ frameId }, at) => [
        frameId,
        {
          kind: 'measured',
          cards: [{ kind: 'clock-card', shownAt: (9 + 4 * at) * HOUR_MS }],
        } as unknown as FrameMeasurement,
      ]),
    );
    const [record] = clockDrifts(arranged(frames), cards);
    expect(record).toMatchObject({ body: FIRST, against: null, drift: { points: 2 } });
    expect(record!.drift.slope).toBeCloseTo(2, 2);
    expect(record!.drift.to - record!.drift.from).toBeCloseTo(1, 2);
    expect(clockDrifts(arranged(frames.slice(0, 1)), cards)).toEqual([]);
  });
});
