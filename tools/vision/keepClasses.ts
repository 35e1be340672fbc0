/**
 * Leaves only some classes in the detector's six class predictors. Each output of a predictor is one class at one anchor,
 * computed and quantised by itself, so the scores of the classes kept are those of the whole model to the last bit.
 */
import type { Constant, SourceGraph } from './tfjsGraph.js';

export const SOURCE_CLASSES = 91;
const PREDICTOR = /^BoxPredictor_\d+\/ClassPredictor\/(weights|biases)$/;
/** The last size of the predictors' common Reshape. */
const CLASS_COUNT = 'BoxPredictor_0/stack_1/2';

/** @param ids the classes kept, in the order in which their scores come out */
export function keepClasses(source: SourceGraph, ids: readonly number[]): SourceGraph {
  const constants = new Map(source.constants);
  for (const [name, constant] of source.constants) {
    if (PREDICTOR.test(name)) constants.set(name, keepLast(constant, ids));
  }
  constants.set(CLASS_COUNT, { shape: [], data: Int32Array.of(ids.length) });
  return { ...source, constants };
}

/** Of the last dimension, which counts anchors × classes, the classes kept. */
function keepLast({ shape, data }: Constant, ids: readonly number[]): Constant {
  const outputs = shape[shape.length - 1]!;
  if (outputs % SOURCE_CLASSES !== 0) {
    throw new Error(`Expected a multiple of ${SOURCE_CLASSES} outputs but got ${outputs}; another detector?`);
  }
  const kept: number[] = [];
  for (let start = 0; start < data.length; start += SOURCE_CLASSES) {
    for (const id of ids) kept.push(data[start + id]!);
  }
  return { shape: [...shape.slice(0, -1), (outputs / SOURCE_CLASSES) * ids.length], data: Float32Array.from(kept) };
}
