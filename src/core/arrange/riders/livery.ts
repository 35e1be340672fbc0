/** What a rider looks like, in the words riders use: "black / orange, white leathers, red helmet". */
import { areNeighbours } from '../../measure/index.js';
import type { ColourName, ColourShare } from '../../measure/types.js';
import type { Livery } from '../types.js';

/** A second colour is named when it covers at least this share of the first. */
const SECOND_COLOUR_SHARE = 0.35;
/** Below this share of the subject a colour is noise: shade, tarmac at the edge of the box. */
const LEAST_SHARE = 0.08;

/** Mean share of each colour over several sightings, largest first; Lab weighted by share. */
export function poolColours(sightings: readonly (readonly ColourShare[])[]): readonly ColourShare[] {
  const sums = new Map<ColourName, { share: number; lab: [number, number, number] }>();
  const seen = sightings.filter((colours) => colours.length > 0);
  for (const { name, share, lab } of seen.flat()) {
    const sum = sums.get(name) ?? { share: 0, lab: [0, 0, 0] };
    sum.share += share;
    for (const axis of [0, 1, 2] as const) sum.lab[axis] += share * lab[axis];
    sums.set(name, sum);
  }
  return [...sums]
    .filter(([, { share }]) => share > 0)
    .map(
      ([
        name,
        {
          share,
          lab: [l, a, b],
        },
      ]) => ({
        name,
        share: share / seen.length,
        lab: [l / share, a / share, b / share] as const,
      }),
    )
    .sort((x, y) => y.share - x.share || (x.name < y.name ? -1 : 1));
}

/**
 * The colours that somebody would mention: the largest, and what covers a good part of what it covers. A neighbour of one
 * that is mentioned is mostly the same paint in another light.
 */
function mentioned(colours: readonly ColourShare[]): readonly ColourName[] {
  const least = Math.max(LEAST_SHARE, SECOND_COLOUR_SHARE * (colours[0]?.share ?? 0));
  const names: ColourName[] = [];
  for (const { name, share } of colours) {
    const isSaid = names.some((other) => areNeighbours(name, other));
    if (names.length === 0 || (share >= least && !isSaid)) names.push(name);
  }
  return names;
}

/** Two at most. */
export const mainColoursOf = (colours: readonly ColourShare[]): readonly ColourName[] => mentioned(colours).slice(0, 2);

/** Helmets are small and painted in several colours: of rendered ones the largest is right, or nearly, above this share. */
const SURE_HELMET_SHARE = 0.6;

/** By parts, so that each language can say them in its own way. */
export function liveryOf(
  bike: readonly ColourShare[],
  rider: readonly ColourShare[],
  helmet: readonly ColourShare[] = [],
): Livery {
  return {
    bike: mainColoursOf(bike),
    isMulticoloured: mentioned(bike).length > 2,
    leathers: rider[0]?.name ?? null,
    helmet: helmet[0] === undefined || helmet[0].share < SURE_HELMET_SHARE ? null : helmet[0].name,
  };
}

export function liveryWords(...seen: Parameters<typeof liveryOf>): string {
  const { bike, isMulticoloured, leathers, helmet } = liveryOf(...seen);
  const words = bike.join(' / ');
  const parts = [
    // Nobody says three colours of a bike.
    isMulticoloured ? `multicoloured (${words})` : words,
    leathers === null ? '' : `${leathers} leathers`,
    helmet === null ? '' : `${helmet} helmet`,
  ];
  return parts.filter((part) => part !== '').join(', ') || 'colours not known';
}
