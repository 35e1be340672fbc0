import { describe, expect, it } from 'vitest';
import { keepClasses, SOURCE_CLASSES } from './keepClasses.js';
import type { SourceGraph } from './tfjsGraph.js';

/** Two inputs, two anchors; each value says its input, anchor and class. */
const source = (outputs: number): SourceGraph => ({
  nodes: new Map(),
  constants: new Map([
    [
      'BoxPredictor_3/ClassPredictor/weights',
      { shape: [1, 1, 2, outputs], data: Float32Array.from({ length: 2 * outputs }, (_, at) => at) },
    ],
    ['BoxPredictor_3/BoxEncodingPredictor/weights', { shape: [1, 1, 1, 2], data: Float32Array.of(5, 6) }],
  ]),
});

describe('leaving out classes', () => {
  it('keeps each input and anchor of the classes asked for, in their order, and nothing of boxes is touched', () => {
    const kept = keepClasses(source(2 * SOURCE_CLASSES), [4, 1]).constants;
    const weights = kept.get('BoxPredictor_3/ClassPredictor/weights')!;
    expect(weights.shape).toEqual([1, 1, 2, 4]);
    expect([...weights.data]).toEqual([4, 1, 95, 92, 186, 183, 277, 274]);
    expect([...kept.get('BoxPredictor_3/BoxEncodingPredictor/weights')!.data]).toEqual([5, 6]);
    expect([...kept.get('BoxPredictor_0/stack_1/2')!.data]).toEqual([2]);
  });

  it('names a predictor that does not hold 91 classes an anchor', () => {
    expect(() => keepClasses(source(90), [1])).toThrow('Expected a multiple of 91 outputs but got 90');
  });
});
