/**
 * A set for the organiser, chosen over all riders: every class, many riders, spots and views, podium and grid, boards where a person
 * said they are seen.
 *
 * A picture belongs to one class of each facet; within a class the best counts whole, each further one less by the facet's `again`. Worth
 * of this form is monotone and submodular (see `choose/setWorth.ts` for the proof), so the greedy set under a limit on its number has
 * at least 1 − 1/e of the best one's worth (Nemhauser, Wolsey & Fisher, Mathematical Programming 14, 1978, 265–294). Limits by rider
 * and by kind come on top and make the bound weaker. The weights are this project's choice. Rules OG1–OG5.
 */
import type { RiderKey } from '../../ids.js';
import { isPodium } from './races.js';
import type { OrganiserSet, SetCandidate, SetPicture, SetShows, SetWish } from './types.js';

export const SET_WISH: SetWish = {
  pictures: 15,
  mostPerRider: 2,
  mostApart: 0.34,
  groups: [],
  only: 'all',
  withFrames: [],
  withoutFrames: [],
};

interface Facet {
  readonly name: string;
  readonly weight: number;
  readonly again: number;
  readonly classOf: (shows: SetShows) => string | null;
}

const FACETS: readonly Facet[] = [
  { name: 'class', weight: 1, again: 0.7, classOf: ({ group }) => group },
  { name: 'podium', weight: 1, again: 0.4, classOf: ({ apart }) => (isPodium(apart) ? 'podium' : null) },
  {
    name: 'grid',
    weight: 0.8,
    again: 0.3,
    classOf: ({ grid, apart }) => (grid === null || isPodium(apart) ? null : grid.slot),
  },
  { name: 'boards', weight: 0.7, again: 0.7, classOf: ({ hasBoards }) => (hasBoards ? 'boards' : null) },
  { name: 'spot', weight: 0.6, again: 0.6, classOf: ({ spot }) => spot },
  { name: 'rider', weight: 0.6, again: 0.1, classOf: ({ riders }) => riders[0] ?? null },
  {
    name: 'paddock',
    weight: 0.5,
    again: 0.4,
    classOf: ({ apart }) => (apart === null || isPodium(apart) ? null : apart.is),
  },
  { name: 'view', weight: 0.3, again: 0.7, classOf: ({ view }) => view },
  { name: 'shutter', weight: 0.3, again: 0.6, classOf: ({ shutter }) => shutter },
  { name: 'session', weight: 0.3, again: 0.6, classOf: ({ session }) => (session === null ? null : String(session)) },
  { name: 'picture', weight: 0.5, again: 1, classOf: () => 'any' },
];

/** `nameOf`: groups and spots as people say them. */
export interface SetNames {
  readonly groupName: (group: string) => string;
  readonly spotName: (spot: string) => string;
}

export function chooseForOrganiser(
  candidates: readonly SetCandidate[],
  asked: Partial<SetWish>,
  names: SetNames,
): OrganiserSet {
  const wish = { ...SET_WISH, ...asked };
  const set = new Growing(wish, names);
  const said = candidates.filter(({ frameId }) => wish.withFrames.includes(frameId));
  for (const one of said) set.take(one, 'said');
  const free = candidates.filter((one) => mayBeAsked(one, wish));
  for (let best = set.bestOf(free); best !== null; best = set.bestOf(free)) set.take(best, 'proposed');
  return { wish, pictures: numbered(set.taken), lacks: lacksOf(set.taken, candidates, wish, names) };
}

const mayBeAsked = ({ frameId, shows }: SetCandidate, { withoutFrames, groups, only }: SetWish): boolean =>
  !withoutFrames.includes(frameId) &&
  (groups.length === 0 || (shows.group !== null && groups.includes(shows.group))) &&
  (only === 'all' || (only === 'podium' ? isPodium(shows.apart) : shows.hasBoards));

type Taken = Omit<SetPicture, 'number'> & { readonly order: number };

class Growing {
  readonly taken: Taken[] = [];
  readonly #wish: SetWish;
  readonly #names: SetNames;
  /** By facet and class: the qualities taken, best first. */
  readonly #classes = new Map<string, number[]>();
  readonly #alike = new Set<string>();
  readonly #riders = new Map<RiderKey, number>();
  #apart = 0;

  constructor(wish: SetWish, names: SetNames) {
    this.#wish = wish;
    this.#names = names;
  }

  bestOf(candidates: readonly SetCandidate[]): SetCandidate | null {
    let best: SetCandidate | null = null;
    let most = 0;
    if (this.taken.length >= this.#wish.pictures) return null;
    for (const one of candidates) {
      if (!this.#hasRoom(one)) continue;
      const gain = this.#gainOf(one);
      if (gain > most) [best, most] = [one, gain];
    }
    return best;
  }

  take(one: SetCandidate, source: Taken['source']): void {
    const reasons = [...(source === 'said' ? ['you said so'] : []), ...this.#reasonsOf(one)];
    const { frameId, shows, order } = one;
    this.taken.push({ frameId, source, reasons, gain: this.#gainOf(one), shows, order });
    for (const { key } of this.#placesOf(one)) {
      const own = [...(this.#classes.get(key) ?? []), one.quality];
      this.#classes.set(
        key,
        own.sort((a, b) => b - a),
      );
    }
    this.#alike.add(one.alike);
    for (const rider of shows.riders) this.#riders.set(rider, (this.#riders.get(rider) ?? 0) + 1);
    if (shows.apart !== null) this.#apart += 1;
  }

  #hasRoom({ frameId, alike, shows }: SetCandidate): boolean {
    const { mostPerRider, mostApart, pictures, only } = this.#wish;
    if (this.#alike.has(alike) || this.taken.some((one) => one.frameId === frameId)) return false;
    if (shows.riders.some((rider) => (this.#riders.get(rider) ?? 0) >= mostPerRider)) return false;
    return only === 'podium' || shows.apart === null || this.#apart < Math.max(1, Math.floor(mostApart * pictures));
  }

  #placesOf({ shows }: SetCandidate) {
    return FACETS.flatMap((facet) => {
      const own = facet.classOf(shows);
      return own === null ? [] : [{ facet, own, key: `${facet.name} ${own}` }];
    });
  }

  #gainOf(one: SetCandidate): number {
    return this.#placesOf(one).reduce((sum, place) => sum + this.#gainIn(place, one.quality), 0);
  }

  /** It takes its place behind all that are as good, and those behind it move on by one. */
  #gainIn({ facet, key }: { readonly facet: Facet; readonly key: string }, quality: number): number {
    const before = this.#classes.get(key) ?? [];
    const worth = (sorted: readonly number[]) =>
      sorted.reduce((sum, one, place) => sum + one * facet.again ** place, 0);
    return facet.weight * (worth([...before, quality].sort((a, b) => b - a)) - worth(before));
  }

  #reasonsOf(one: SetCandidate): readonly string[] {
    const places = this.#placesOf(one).filter(({ facet }) => facet.name !== 'picture');
    const told = places
      .map((place) => ({
        ...place,
        gain: this.#gainIn(place, one.quality),
        before: this.#classes.get(place.key)?.length ?? 0,
      }))
      .filter(({ facet, before }) => before === 0 || ['boards', 'podium'].includes(facet.name))
      .sort((a, b) => b.gain - a.gain)
      .map(({ facet, own, before }) => this.#wordsOf(facet.name, own, before, one.shows));
    return [...told, ...one.qualityWords];
  }

  #wordsOf(facet: string, own: string, before: number, { apart, grid, spot }: SetShows): string {
    const which = before === 0 ? 'the first' : 'another';
    switch (facet) {
      case 'class':
        return `${which} of ${this.#names.groupName(own)}`;
      case 'podium':
        return `${which} of the podium${guessed(apart?.source)}`;
      case 'grid':
        return `${which} of the grid of ${own}${guessed(grid?.source)}`;
      case 'boards':
        return `boards are seen from ${this.#names.spotName(spot ?? '')}, you said`;
      case 'spot':
        return `${which} from ${this.#names.spotName(own)}`;
      case 'rider':
        return 'a rider not yet in the set';
      case 'paddock':
        return `${which} of the ${own === 'portrait' ? 'portraits' : own}${guessed(apart?.source)}`;
      case 'view':
        return `${which} seen ${VIEWS[own] ?? own}`;
      case 'shutter':
        return `${which} ${own} frame`;
      default:
        return 'a session not yet in the set';
    }
  }
}

const VIEWS: Readonly<Record<string, string>> = { narrow: 'end on', between: 'three-quarter', wide: 'side on' };

const guessed = (source: { readonly kind: string; readonly confidence?: number } | undefined): string =>
  source?.confidence === undefined ? '' : ` (a guess, ${Math.round(source.confidence * 100)} of 100)`;

const numbered = (taken: readonly Taken[]): readonly SetPicture[] =>
  [...taken].sort((a, b) => a.order - b.order).map(({ order: _, ...one }, index) => ({ ...one, number: index + 1 }));

function lacksOf(
  taken: readonly Taken[],
  candidates: readonly SetCandidate[],
  { pictures, groups, only, withFrames }: SetWish,
  { groupName }: SetNames,
): readonly string[] {
  const wanted = groups.length > 0 ? groups : [...new Set(candidates.flatMap(({ shows }) => shows.group ?? []))];
  const missing = wanted.filter((group) => !taken.some(({ shows }) => shows.group === group)).map(groupName);
  const unknown = withFrames.filter((frame) => !candidates.some(({ frameId }) => frameId === frame));
  return [
    ...(taken.length < pictures
      ? [`${taken.length} of ${pictures} pictures: no more of the keepers differ enough.`]
      : []),
    ...(only === 'all' && missing.length > 0 ? [`None of ${missing.join(', ')}.`] : []),
    ...unknown.map((frame) => `Frame ${frame} is no keeper, was taken down or is held back, so it is not in the set.`),
  ];
}
