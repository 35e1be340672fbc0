/** Spots from their features. */
import type { SpotId } from '../../../ids.js';
import { degreesOf, type Metres } from '../../../units.js';
import type { CircuitSpot } from '../types.js';
import type { Feature } from './features.js';
import { listOf, Members, numberFrom, oneOf, type Say, someId, someText, yesOrNo } from './members.js';
import { type Numbered, withoutRepeats } from './repeats.js';

export function spotsOf(features: readonly Feature[], say: Say): CircuitSpot[] {
  const read = features.map((feature) => spotOf(feature, say));
  const highest = Math.max(0, ...read.map(({ number }) => number ?? 0));
  let next = highest;
  const numbered = read.map((spot) => ({ ...spot, number: spot.number ?? ++next }));
  return withoutRepeats('spot', numbered as (CircuitSpot & Numbered)[], ({ place }) => [place], say);
}

function spotOf({ path, places, properties }: Feature, say: Say): Omit<CircuitSpot, 'number'> & { number?: number } {
  const name = someText.read(properties.name) ?? 'without a name';
  const at = places.slice(0, 1);
  const of = new Members(properties, { path: `${path}.properties`, what: `the spot ${name}`, at }, say);
  const metres = (from: number, to: number) => numberFrom(from, to, 'metres');
  return {
    id: of.needed('id', someId, 'spot', 'it was given one') as SpotId,
    ...of.optional('number', wholeNumber),
    name: of.needed('name', someText, 'Spot without a name', 'give it one'),
    place: places[0]!,
    viewAzimuthDeg: degreesOf(
      of.needed('viewAzimuthDeg', numberFrom(0, 360, 'degrees'), 0, 'it looks north until you turn it'),
    ),
    ...(of.optional('heightM', metres(-50, 200)) as { heightM?: Metres }),
    ...(of.optional('distanceM', metres(0, 1000)) as { distanceM?: Metres }),
    ...of.optional('aspect', oneOf('head-on', 'three-quarter', 'side-on', 'going-away')),
    ...of.optional('sideSeen', oneOf('left', 'right', 'both')),
    ...of.optional('moments', listOf(oneOf('entry', 'apex', 'exit', 'straight'))),
    ...of.optional('needsPermit', yesOrNo),
    ...of.optional('hasShade', yesOrNo),
    ...of.optional('focalMm', shortestToLongest),
    ...of.optional('caution', someText),
  };
}

const wholeNumber = {
  expected: 'a whole number from 1 to 99',
  read: (value: unknown): number | undefined =>
    Number.isInteger(value) && (value as number) >= 1 && (value as number) <= 99 ? (value as number) : undefined,
};
const shortestToLongest = {
  expected: 'the shortest and the longest lens in mm, such as [100, 400]',
  read: (value: unknown): readonly [number, number] | undefined => {
    const [shortest, longest, more] = listOf(numberFrom(1, 3000, 'millimetres')).read(value) ?? [];
    if (shortest === undefined || longest === undefined || more !== undefined) return undefined;
    return shortest <= longest ? [shortest, longest] : undefined;
  },
};
