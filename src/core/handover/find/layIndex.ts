/**
 * The index as small texts for a web server: a list of what lies where, and files of entries by what may be looked for,
 * so that a phone fetches only what its question needs. Entries go by rider, so that most of it is a few long runs.
 */
import { fluorescent, neighboursOf } from '../../measure/index.js';
import type { ColourName } from '../../measure/types.js';
import { GUESS_MARK, hiddenKey, numberKey, placeOf, plainKey, slugKey } from './keys.js';
import { runsOf, runsText } from './runs.js';
import { FIND_FACETS, type FindEntry, type FindFacet, type FindRider } from './types.js';

/** Name of the list; the files of entries are `0.txt`, `1.txt`, … */
export const TOP = 'top.txt';

/** A file is closed when it is as long as this: at 1.6 Mbit/s that takes less than a round trip. */
const FULL_FILE = 8_000;

export function layIndex(riders: readonly FindRider[], meeting: string): ReadonlyMap<string, string> {
  const lists = listsOf(riders, meeting);
  const files: { readonly facet: FindFacet; readonly places: string[]; text: string }[] = [];
  for (const facet of FIND_FACETS)
    for (const [place, text] of byPlace(facet, lists.get(facet) ?? new Map())) {
      const last = files.at(-1);
      if (last?.facet === facet && last.text.length + text.length <= FULL_FILE) {
        last.places.push(place);
        last.text += text;
      } else files.push({ facet, places: [place], text });
    }
  const top = [
    `find 1 ${meeting}`,
    riders.map(({ entries }) => entries.length.toString(36)).join(' '),
    ...files.map(({ facet, places }) => `${facet} ${places.join(' ')}`),
    ...nearLines(lists),
    '',
  ];
  return new Map([[TOP, top.join('\n')], ...files.map(({ text }, n) => [`${n}.txt`, text] as const)]);
}

type Lists = ReadonlyMap<FindFacet, ReadonlyMap<string, number[]>>;

function listsOf(riders: readonly FindRider[], meeting: string): Lists {
  const lists = new Map<FindFacet, Map<string, number[]>>();
  let entry = 0;
  for (const rider of riders)
    for (const picture of rider.entries) {
      for (const [facet, key] of keysOf(rider, picture, meeting)) {
        const byKey = lists.get(facet) ?? new Map<string, number[]>();
        lists.set(facet, byKey);
        const list = byKey.get(key);
        if (list === undefined) byKey.set(key, [entry]);
        else list.push(entry);
      }
      entry += 1;
    }
  return lists;
}

/** All that this picture of this rider is found under, each once. */
function keysOf(rider: FindRider, entry: FindEntry, meeting: string): readonly (readonly [FindFacet, string])[] {
  const { number } = rider;
  const keys: (readonly [FindFacet, string] | null)[] = [
    entry.group === null ? null : ['group', plainKey(entry.group)],
    entry.session === null ? null : ['session', String(entry.session)],
    entry.spot === null ? null : ['spot', String(entry.spot)],
    entry.quarter === null ? null : ['time', String(entry.quarter)],
    ...rider.bike.map((colour) => ['bike', slugKey(colour)] as const),
    rider.leathers === null ? null : ['leathers', slugKey(rider.leathers)],
    number === null || numberKey(number.text) === ''
      ? null
      : ['number', `${numberKey(number.text)}${number.isGuess ? GUESS_MARK : ''}`],
    rider.class === null ? null : ['class', plainKey(rider.class)],
    ...rider.words.map((word) => ['word', hiddenKey(meeting, word)] as const),
    rider.card === null ? null : ['card', hiddenKey(meeting, rider.card)],
  ];
  return keys.filter((key) => key !== null);
}

/** A line a key, in order of their places. */
function byPlace(facet: FindFacet, lists: ReadonlyMap<string, readonly number[]>): ReadonlyMap<string, string> {
  const places = new Map<string, string>();
  for (const [key, entries] of [...lists].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const place = placeOf(facet, key);
    places.set(place, `${places.get(place) ?? ''}${key}\t${runsText(runsOf(entries))}\n`);
  }
  return places;
}

/** What stands beside a colour or a quarter of an hour and is there at all. */
function nearLines(lists: Lists): readonly string[] {
  const lines: string[] = [];
  const add = (facet: FindFacet, near: (key: string) => readonly string[]) => {
    for (const key of askable(facet, lists)) {
      const there = near(key).filter((other) => lists.get(facet)?.has(other));
      if (there.length > 0) lines.push(`${GUESS_MARK} ${facet} ${key} ${there.join(' ')}`);
    }
  };
  add('bike', coloursBeside);
  add('leathers', coloursBeside);
  add('time', (key) => [String(Number(key) - 1), String(Number(key) + 1)]);
  return lines;
}

/** Also keys without entries of their own: who asks for a colour that is not there may mean the one beside it. */
function askable(facet: FindFacet, lists: Lists): readonly string[] {
  const there = [...(lists.get(facet)?.keys() ?? [])];
  if (there.length === 0) return [];
  const beside =
    facet === 'time'
      ? there.flatMap((key) => [String(Number(key) - 1), String(Number(key) + 1)])
      : [...there.flatMap(coloursBeside), ...FLUORESCENT];
  return [...new Set([...there, ...beside])].sort();
}

const coloursBeside = (key: string): readonly string[] =>
  neighboursOf(key.replace('-', ' ') as ColourName).map(slugKey);
/** They stand beside ordinary colours, but not the other way round. */
const FLUORESCENT = (['yellow', 'orange', 'red'] as const).map((hue) => slugKey(fluorescent(hue)));
