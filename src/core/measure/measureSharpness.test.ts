import { describe, expect, it } from 'vitest';
import { defocused, drawMachine, moved, withNoise } from './drawnPictures.js';
import type { GreyImage } from './images.js';
import { type CoarseMask, measureSharpness, noiseVariance, tellBlur } from './measureSharpness.js';
import type { Sharpness } from './types.js';

const machine = drawMachine(200);

function sharpnessOf(image: GreyImage, mask?: CoarseMask): Sharpness {
  const measured = measureSharpness(image, 1024, mask);
  if (!('overall' in measured)) throw new Error(`Expected a sharpness but it is absent: ${measured.reason}.`);
  return measured;
}

describe('sharpness of one burst', () => {
  const frames = {
    sharp: sharpnessOf(withNoise(machine, 2, 1)),
    slightlyMoved: sharpnessOf(withNoise(moved(machine, 3, [1, 0]), 2, 2)),
    moved: sharpnessOf(withNoise(moved(machine, 9, [1, 0]), 2, 3)),
    movedAslant: sharpnessOf(withNoise(moved(machine, 7, [1, 1]), 2, 4)),
    slightlySoft: sharpnessOf(withNoise(defocused(machine, 1), 2, 5)),
    soft: sharpnessOf(withNoise(defocused(machine, 3), 2, 6)),
  };

  it('orders sharp before slightly blurred before badly blurred, whatever blurred it', () => {
    expect(frames.sharp.overall).toBeGreaterThan(frames.slightlyMoved.overall);
    expect(frames.slightlyMoved.overall).toBeGreaterThan(frames.moved.overall);
    expect(frames.sharp.overall).toBeGreaterThan(frames.slightlySoft.overall);
    expect(frames.slightlySoft.overall).toBeGreaterThan(frames.soft.overall);
    expect(frames.movedAslant.overall).toBeLessThan(0.8 * frames.sharp.overall);
  });

  it('tells motion, with its direction, from missed focus', () => {
    expect(tellBlur(frames.sharp, frames.sharp)).toEqual({ kind: 'sharp' });
    expect(tellBlur(frames.moved, frames.sharp)).toEqual({ kind: 'motion', directionDeg: 0 });
    expect(tellBlur(sharpnessOf(moved(machine, 9, [0, 1])), frames.sharp)).toEqual({
      kind: 'motion',
      directionDeg: 90,
    });
    expect(tellBlur(frames.movedAslant, frames.sharp)).toEqual({ kind: 'motion', directionDeg: 45 });
    expect(tellBlur(sharpnessOf(moved(machine, 7, [1, -1])), frames.sharp)).toEqual({
      kind: 'motion',
      directionDeg: 135,
    });
    expect(tellBlur(frames.soft, frames.sharp)).toEqual({ kind: 'defocus' });
    expect(tellBlur(frames.slightlySoft, frames.sharp).kind).not.toBe('motion');
  });

  it('does not take contrast for sharpness: a third of the contrast measures nearly the same', () => {
    const flat = { ...machine, data: Float32Array.from(machine.data, (value) => 90 + value / 3) };
    expect(sharpnessOf(flat).overall / sharpnessOf(machine).overall).toBeCloseTo(1, 2);
  });

  it('does not take noise for sharpness: a soft frame at high ISO stays below a clean sharp one', () => {
    const noisy = sharpnessOf(withNoise(defocused(machine, 3), 8, 9));
    expect(noisy.overall).toBeLessThan(0.7 * frames.sharp.overall);
  });

  it('looks only inside the mask: a sharp fence behind a soft bike counts for nothing', () => {
    const soft = defocused(machine, 3);
    const mixed = Float32Array.from(soft.data, (value, index) => (index % 200 < 100 ? value : machine.data[index]!));
    const leftHalf: CoarseMask = {
      inside: Float32Array.of(1, 0),
      width: 2,
      columns: Int32Array.from({ length: 200 }, (_, x) => (x < 100 ? 0 : 1)),
      rows: new Int32Array(200),
    };
    const measured = sharpnessOf({ ...soft, data: mixed }, leftHalf);
    expect(measured.overall).toBeLessThan(0.6 * frames.sharp.overall);
  });
});

describe('what cannot be measured', () => {
  it('is absent with the reason, not zero', () => {
    const tiny = { width: 20, height: 20, data: new Uint8Array(400) };
    expect(measureSharpness(tiny, 1024)).toEqual({ kind: 'absent', reason: 'subject-too-small' });
    const blank = { width: 100, height: 100, data: new Uint8Array(10_000).fill(90) };
    expect(measureSharpness(blank, 1024)).toEqual({ kind: 'absent', reason: 'no-structure' });
  });
});

describe('noise', () => {
  it('is found within a third on a flat picture of known noise', () => {
    const flat = { width: 128, height: 128, data: new Float32Array(128 * 128).fill(100) };
    expect(noiseVariance(withNoise(flat, 5, 11))).toBeGreaterThan(25 * 0.66);
    expect(noiseVariance(withNoise(flat, 5, 11))).toBeLessThan(25 * 1.33);
  });
});
