import { expect, it } from 'vitest';
import type { PlainColour } from '../../measure/index.js';
import { POCKET_COLOURS, type PocketColour } from './types.js';

/** Assignable both ways: a name that either side adds or drops alone does not compile. */
const toMeasuring: (name: PocketColour) => PlainColour = (name) => name;
const toPocket: (name: PlainColour) => PocketColour = (name) => name;

it('PL701: the pocket’s colours are those of measuring, neither more nor fewer; that one is fluorescent stands in the words', () => {
  expect(POCKET_COLOURS.map((name) => toPocket(toMeasuring(name)))).toEqual([...new Set(POCKET_COLOURS)]);
});
