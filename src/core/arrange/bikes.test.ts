import { expect, it } from 'vitest';
import type { FrameMeasured, Subject } from '../measure/types.js';
import { bikesOf } from './bikes.js';

const subject = (what: Subject['what']): Partial<Subject> => ({
  what,
  box: [0.3, 0.2, 0.2, 0.6],
  isMain: true,
  descriptor: what === 'person' ? '' : 'AQID',
});
const frame = (what: Subject['what']) => ({ subjects: [subject(what)] }) as unknown as FrameMeasured;

it('a person without a machine starts no rider, nor do cars and bicycles (docs/privacy.md)', () => {
  const frames = (['person', 'motorcycle', 'bicycle', 'car'] as const).map(frame);
  const { bikes } = bikesOf(frames, Int32Array.of(0, 1, 2, 3), { dimensions: 3, passLikeness: 0.5 });
  expect([...bikes.exposure]).toEqual([1]);
});
