/** What the choosing sheet asks the desk. */
import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import type { BikeName, RiderToChooseView } from '../../server/choosing/types.js';
import type { CloseLooksView, CloseLookView } from '../../server/judging/types.js';
import { desk } from '../api/client.js';
import { nameOf } from './framesSaid.js';
import { isKept } from './looking.js';

export const choosingQuery = queryOptions({
  queryKey: ['choosing'],
  queryFn: desk.choosing,
  placeholderData: keepPreviousData,
});

export const toChooseQuery = (key: string) =>
  queryOptions({ queryKey: ['choosing', 'rider', key], queryFn: () => desk.toChoose(key) });

/** So many bikes are looked at closely beforehand; an address of more would be refused. */
const MOST_LOOKS = 60;

/** What came second, all frames of the passes that keep something, then the others: what may come to stand beside each other. */
export function bikesOf(view: RiderToChooseView): readonly string[] {
  const keeping = view.passes.filter(({ frames }) => frames.some(isKept));
  const frames = [...keeping, ...view.passes].flatMap((pass) => pass.frames);
  const seconds = frames.flatMap(({ second }) => second ?? []);
  return [...new Set(bikeNames([...seconds, ...frames]))].slice(0, MOST_LOOKS);
}

export const bikeNames = (bikes: readonly BikeName[]): readonly string[] =>
  bikes.map(({ frameId, subject }) => `${frameId}:${subject}`);

/** Looks tell of files, not of decisions: asked for once, and again only while some of them are still to be judged. */
const WHILE_WAITING_MS = 2000;
export const looksQuery = (bikes: readonly string[]) =>
  queryOptions({
    queryKey: ['looks', bikes.join()],
    queryFn: (): Promise<CloseLooksView> => desk.looks(bikes),
    enabled: bikes.length > 0,
    refetchInterval: ({ state }) =>
      state.data?.looks.some(({ judgement }) => judgement.kind === 'waiting') ? WHILE_WAITING_MS : false,
  });

export type Looks = ReadonlyMap<string, CloseLookView>;
export const looksByName = (view: CloseLooksView | undefined): Looks =>
  new Map((view?.looks ?? []).map((look) => [nameOf(look), look]));
