import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../../../demo/circuit/ebbstone.js';
import { at, circuitOf, rectangle, spotAt, wayAlong } from '../testing/shapes.js';
import { cutOffSpots, cutOffWords } from './cutOff.js';

const spots = [spotAt('out', 300, 232, 180), spotAt('in', 0, 165, 0, 2)];
const path = wayAlong('path', [
  [0, 240],
  [300, 240],
]);
const circuit = (more: Parameters<typeof circuitOf>[1]) =>
  circuitOf(rectangle(800, 400), { paddock: at(0, 240), spots, ...more });

describe('spots that no way reaches', () => {
  it('PL122: a circuit without ways says so, for all its spots', () => {
    expect(cutOffWords(circuit({}))).toMatch(/^No way is drawn from the paddock to any of the 2 spots: .*Draw the way/);
  });

  it('PL122: of some that are reached the others are named', () => {
    expect(cutOffSpots(circuit({ ways: [path] })).map(({ id }) => id)).toEqual(['in']);
    expect(cutOffWords(circuit({ ways: [path] }))).toMatch(/^None of the ways drawn leads from the paddock to 2 in:/);
  });

  it('PL122: nothing is missing where all are reached, if only with the permit, or where no spot is drawn yet', () => {
    const permitted = { ...path, onFoot: 'with-permit' } as const;
    expect(cutOffWords(circuit({ ways: [permitted], spots: spots.slice(0, 1) }))).toBeNull();
    expect(cutOffWords(circuit({ spots: [] }))).toBeNull();
    expect(cutOffWords(EBBSTONE)).toBeNull();
  });
});
