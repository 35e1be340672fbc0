import { describe, expect, it } from 'vitest';
import { assembleSubjects, chooseMain, touchesEdge } from './assembleSubjects.js';
import type { DetectedClass, Detection } from './decodeDetections.js';
import type { Box } from './types.js';

const seen = (what: DetectedClass, score: number, box: Box): Detection => ({ what, score, box });
const rounded = (box: Box) => box.map((value) => Number(value.toFixed(6)));

describe('subjects', () => {
  it('join a bike and the rider on it into one box and keep both apart inside it', () => {
    const [subject, ...rest] = assembleSubjects([
      seen('motorcycle', 0.8, [0.3, 0.4, 0.4, 0.4]),
      seen('person', 0.7, [0.4, 0.25, 0.2, 0.4]),
    ]);
    expect(rest).toEqual([]);
    expect(subject!.what).toBe('motorcycle');
    expect(rounded(subject!.box)).toEqual([0.3, 0.25, 0.4, 0.55]);
    expect(subject!.bikeBox).toEqual([0.3, 0.4, 0.4, 0.4]);
    expect(subject!.riderBox).toEqual([0.4, 0.25, 0.2, 0.4]);
    expect(subject!.score).toBe(0.8);
  });

  it('keep several bikes apart, each with its own rider', () => {
    const subjects = assembleSubjects([
      seen('motorcycle', 0.8, [0.1, 0.4, 0.3, 0.4]),
      seen('motorcycle', 0.7, [0.3, 0.42, 0.3, 0.4]),
      seen('person', 0.9, [0.36, 0.3, 0.15, 0.35]),
      seen('person', 0.6, [0.15, 0.3, 0.15, 0.35]),
    ]);
    expect(subjects).toHaveLength(2);
    expect(subjects.map(({ riderBox }) => riderBox![0])).toEqual([0.15, 0.36]);
  });

  it('do not seat a marshal who stands beside the bike', () => {
    const [subject] = assembleSubjects([
      seen('motorcycle', 0.8, [0.3, 0.4, 0.3, 0.4]),
      seen('person', 0.9, [0.57, 0.3, 0.1, 0.5]),
    ]);
    expect(subject!.riderBox).toBeUndefined();
    expect(subject!.box).toEqual([0.3, 0.4, 0.3, 0.4]);
  });

  it('call a single-seater a car where the surer word for it is car, and a bike before a car a bike', () => {
    const whats = (bikeScore: number, carScore: number, car: Box) =>
      assembleSubjects([seen('motorcycle', bikeScore, [0, 0.1, 0.2, 0.8]), seen('car', carScore, car)]).map(
        ({ what }) => what,
      );
    expect(whats(0.42, 0.57, [0.03, 0.1, 0.22, 0.5])).toEqual(['car']);
    expect(whats(0.8, 0.57, [0.03, 0.1, 0.22, 0.5])).toEqual(['motorcycle', 'car']);
    expect(whats(0.5, 0.9, [0.15, 0.1, 0.6, 0.5])).toEqual(['motorcycle', 'car']);
  });

  it('do not count a wheel seen as a second bike inside the first', () => {
    const subjects = assembleSubjects([
      seen('motorcycle', 0.8, [0.2, 0.3, 0.5, 0.5]),
      seen('motorcycle', 0.5, [0.22, 0.55, 0.15, 0.2]),
    ]);
    expect(subjects).toHaveLength(1);
  });

  it('are one where a bike coming straight on is found twice, machine and rider, and two where two people ride', () => {
    const machine = seen('motorcycle', 0.95, [0.4, 0.29, 0.24, 0.52]);
    const upper = seen('motorcycle', 0.6, [0.4, 0.08, 0.26, 0.6]);
    const rider = seen('person', 0.8, [0.42, 0.08, 0.2, 0.4]);
    const [one, ...rest] = assembleSubjects([machine, upper, rider]);
    expect(rest).toEqual([]);
    expect(one!.bikeBox).toEqual(machine.box);
    expect(rounded(one!.box)).toEqual([0.4, 0.08, 0.26, 0.73]);
    expect(assembleSubjects([machine, upper, rider, seen('person', 0.7, [0.43, 0.28, 0.18, 0.3])])).toHaveLength(2);
  });

  it('do not count one bike twice because it is also called a bicycle', () => {
    const subjects = assembleSubjects([
      seen('motorcycle', 0.6, [0.2, 0.3, 0.5, 0.5]),
      seen('bicycle', 0.7, [0.21, 0.3, 0.5, 0.5]),
    ]);
    expect(subjects.map(({ what }) => what)).toEqual(['motorcycle']);
  });

  it('leave people who ride nothing out as long as there is a vehicle, and show them where there is none', () => {
    const person = seen('person', 0.9, [0.7, 0.3, 0.1, 0.4]);
    expect(assembleSubjects([seen('car', 0.9, [0.1, 0.3, 0.4, 0.3]), person]).map(({ what }) => what)).toEqual(['car']);
    expect(assembleSubjects([person]).map(({ what }) => what)).toEqual(['person']);
  });

  it('need a bike at 0.4 and are none without one', () => {
    expect(assembleSubjects([seen('motorcycle', 0.39, [0.2, 0.3, 0.5, 0.5])])).toEqual([]);
    expect(assembleSubjects([])).toEqual([]);
  });

  it('are cut where bike or rider touches the edge', () => {
    expect(touchesEdge([0.001, 0.3, 0.4, 0.4])).toBe(true);
    expect(touchesEdge([0.3, 0.6, 0.4, 0.398])).toBe(true);
    expect(touchesEdge([0.02, 0.02, 0.96, 0.96])).toBe(false);
  });
});

describe('the main subject', () => {
  const bike = (box: Box, sharpness: number) => ({
    what: 'motorcycle' as const,
    box,
    isCut: touchesEdge(box),
    sharpness,
  });

  it('is the larger of two equally sharp bikes', () => {
    expect(chooseMain([bike([0.1, 0.4, 0.2, 0.2], 1), bike([0.4, 0.3, 0.4, 0.4], 1)])).toBe(1);
  });

  it('is the sharp bike in front of a blurred one a little larger', () => {
    expect(chooseMain([bike([0.05, 0.3, 0.4, 0.4], 0.2), bike([0.5, 0.35, 0.35, 0.35], 1)])).toBe(1);
  });

  it('is the bike in the middle rather than its like in the corner', () => {
    expect(chooseMain([bike([0.01, 0.01, 0.3, 0.3], 1), bike([0.35, 0.35, 0.3, 0.3], 1)])).toBe(1);
  });

  it('is a bike before a nearer car, and nothing where there is nothing', () => {
    const car = { what: 'car' as const, box: [0.3, 0.3, 0.5, 0.5] as const, isCut: false, sharpness: 1 };
    expect(chooseMain([car, bike([0.4, 0.4, 0.3, 0.3], 1)])).toBe(1);
    expect(chooseMain([])).toBe(-1);
  });
});
