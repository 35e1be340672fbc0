/** The circuit in words. */
import { layTrack } from '../../../core/plan/circuit/track.js';
import type { Access, Aspect, Circuit, Moment, SpotView } from '../../../core/plan/circuit/types.js';

/** `4.01 km, clockwise`. */
export const lengthWords = (circuit: Circuit): string =>
  `${(layTrack(circuit).lengthM / 1000).toFixed(2)} km, ${circuit.direction}`;

export const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

export const ACCESS_WORDS: Readonly<Record<Access, string>> = {
  anyone: 'anyone',
  'with-permit': 'only with a permit',
  nobody: 'nobody',
};

export const ASPECT_WORDS: Readonly<Record<Aspect, string>> = {
  'head-on': 'head-on',
  'three-quarter': 'three-quarter',
  'side-on': 'side-on',
  'going-away': 'going away',
};

const listed = (moments: readonly Moment[]): string => moments.join(', ');

/** What the drawing and the person's word say of a spot's view. */
export function viewWords(view: SpotView | null): string {
  if (view === null) return 'Sees no track: turn its view.';
  const side = view.sideSeen === 'both' ? 'both sides' : `the ${view.sideSeen} side`;
  const bend = view.radiusM === null ? '' : `, radius ${Math.round(view.radiusM)} m`;
  return `${Math.round(view.distanceM)} m to the bikes, ${ASPECT_WORDS[view.aspect]}, ${side}; ${listed(view.moments)}${bend}.`;
}
