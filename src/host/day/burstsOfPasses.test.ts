import { expect, it } from 'vitest';
import type { Arrangement } from '../../core/arrange/types.js';
import type { FrameId } from '../../core/ids.js';
import type { FrameMeasurement } from '../../core/measure/types.js';
import { burstFrames, burstsOfPasses } from './burstsOfPasses.js';

const day = (...instants: readonly (number | null)[]): Arrangement =>
  ({
    exposures: instants.map((instant, k) => ({ frameId: `f${k}`, instant })),
    passes: [{ bikes: instants.map((_, k) => ({ frameId: `f${k}`, subject: 0 })) }],
  }) as unknown as Arrangement;

const around = (...instants: readonly (number | null)[]): readonly string[] =>
  instants.map((_, k) =>
    (burstsOfPasses(day(...instants)).get(`f${k}:0`) ?? []).map(({ bike }) => bike.frameId.slice(1)).join(''),
  );

it('JU20: three frames in quick succession around each, the middle one between its neighbours where it can be', () => {
  expect(around(0, 50, 100, 150)).toEqual(['012', '012', '123', '123']);
  // A gap parts two bursts, and a time that is not known belongs to none.
  expect(around(0, 50, 100, 400, 450)).toEqual(['012', '012', '012', '', '']);
  expect(around(0, 125, 250)).toEqual(['', '', '']);
  expect(around(0, null, 50, 100)).toEqual(['023', '', '023', '023']);
  expect(around(0, 0, 0)).toEqual(['', '', '']);
});

it('JU20: a burst of which one frame was not measured says nothing', () => {
  const burst = burstsOfPasses(day(0, 50, 100)).get('f1:0')!;
  const measured = { kind: 'measured', subjects: [{ box: [0, 0, 1, 1] }] } as unknown as FrameMeasurement;
  const pixels = new Map(['f0', 'f1', 'f2'].map((frame) => [frame as FrameId, measured]));
  expect(burstFrames(burst, pixels, '/pictures').map(({ picture }) => picture)).toEqual([
    '/pictures/f0.jpg',
    '/pictures/f1.jpg',
    '/pictures/f2.jpg',
  ]);
  pixels.delete('f2' as FrameId);
  expect(burstFrames(burst, pixels, '/pictures')).toEqual([]);
});
