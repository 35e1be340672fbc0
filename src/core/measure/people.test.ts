import { describe, expect, it } from 'vitest';
import type { FrameId } from '../ids.js';
import type { DetectedClass } from './decodeDetections.js';
import { drawRgb, grain } from './drawnPictures.js';
import { halve } from './images.js';
import { measurePixels } from './measurePixels.js';
import type { Box } from './types.js';

const picture = drawRgb(400, 300, (x, y) => {
  const value = 90 + Math.round(60 * grain(x, y));
  return [value, value, value];
});
const features = { taught: new Float32Array(96).fill(0.1), block9: new Float32Array(192).fill(1) };
const bike = {
  parts: {
    rect: { left: 0, top: 0, right: 200, bottom: 150 },
    whole: new Float32Array(48 * 48).fill(1),
    clothes: new Float32Array(48 * 48),
    helmet: new Float32Array(48 * 48),
  },
  features: { ...features, block13: new Float32Array(1728).fill(1) },
};

describe('people, as docs/privacy.md says', () => {
  const facts = { frameId: 'f'.repeat(32) as FrameId, source: 'full', tier: 'preview' } as const;
  const subjectsOf = (what: DetectedClass, box: Box) =>
    measurePixels(picture, halve(picture), [{ what, score: 0.9, box }], [{ bike }], facts).subjects;

  it('have no descriptor without a machine, even where the network was asked', () => {
    const [person, ...others] = subjectsOf('person', [0.3, 0.2, 0.15, 0.6]);
    expect(others).toEqual([]);
    expect(person).toMatchObject({ what: 'person', descriptor: '', bikeColours: [] });
    expect(person).not.toHaveProperty('numbers');
    expect(subjectsOf('motorcycle', [0.3, 0.4, 0.4, 0.4])[0]!.descriptor).not.toBe('');
  });
});
