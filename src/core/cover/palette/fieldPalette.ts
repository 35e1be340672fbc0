/** The field's palette: rules PL821–PL825. */
import type { Arrangement, Rider, Session } from '../../arrange/types.js';
import type { RiderKey } from '../../ids.js';
import type { ColourName, ColourShare } from '../../measure/types.js';
import { shareOf } from '../../numeric/wilson.js';
import type { AlikeRiders, ColourOfField, GroupPalette } from './types.js';

/** Each group by its first session with pictures, in the order in which they went out. */
export function fieldPalette(arrangement: Arrangement): readonly GroupPalette[] {
  const first = new Map<string, Session>();
  for (const session of arrangement.sessions)
    if (session.group !== null && !first.has(session.group) && hasPasses(arrangement, session))
      first.set(session.group, session);
  return [...first].map(([group, session]) => paletteOf(arrangement, group, session));
}

const hasPasses = ({ passes }: Arrangement, { index }: Session): boolean =>
  passes.some(({ session }) => session === index);

function paletteOf({ passes, riders }: Arrangement, group: string, session: Session): GroupPalette {
  const out = new Set(passes.filter((pass) => pass.session === session.index).map(({ rider }) => rider));
  const seen = riders.filter(({ key, isInstructor }) => out.has(key) && isInstructor !== true);
  const bikes = coloursOf(seen, ({ bikeColours }) => bikeColours);
  const leathers = coloursOf(seen, ({ riderColours }) => riderColours);
  const alike = alikeIn(seen);
  const sameWords = sameWordsIn(seen, alike);
  return {
    group,
    riders: seen.length,
    sessions: [session.name],
    bikes,
    leathers,
    alike,
    sameWords,
    sentences: [
      ...colourSentence('Bikes', bikes),
      ...colourSentence('Leathers', leathers),
      ...(alike.length === 0
        ? ['No two riders look so alike that their pictures could not be told apart.']
        : alike.map(({ sentence }) => sentence)),
      ...sameWords.map(({ sentence }) => sentence),
    ],
  };
}

function coloursOf(
  riders: readonly Rider[],
  colours: (rider: Rider) => readonly ColourShare[],
): readonly ColourOfField[] {
  const byColour = new Map<ColourName, RiderKey[]>();
  const measured = riders.filter((rider) => colours(rider).length > 0);
  for (const rider of measured) {
    const { name } = colours(rider)[0]!;
    byColour.set(name, [...(byColour.get(name) ?? []), rider.key]);
  }
  return [...byColour]
    .flatMap(([colour, keys]): ColourOfField[] => {
      const share = shareOf(keys.length, measured.length);
      return share === null ? [] : [{ colour, riders: keys, share }];
    })
    .sort((a, b) => b.riders.length - a.riders.length || a.colour.localeCompare(b.colour, 'en'));
}

/** Chains count: who looks like one of them is hard to tell from them all. */
function alikeIn(riders: readonly Rider[]): readonly AlikeRiders[] {
  const left = new Map(riders.map((rider) => [rider.key, rider]));
  const sets: AlikeRiders[] = [];
  for (const rider of riders) {
    const together = chainFrom(rider, left);
    if (together.length < 2) continue;
    const codes = together.map(({ code, number }) => (number === null ? code : `${code} [${number}]`));
    sets.push({
      riders: together.map(({ key }) => key),
      livery: rider.livery,
      sentence: `Hard to tell apart: ${codes.join(', ')} (${rider.livery}). A frame with a number or a helmet in it settles more here than elsewhere.`,
    });
  }
  return sets.sort((a, b) => b.riders.length - a.riders.length);
}

/** By livery; who are hard to tell apart anyway are told so already. */
function sameWordsIn(riders: readonly Rider[], alike: readonly AlikeRiders[]): readonly AlikeRiders[] {
  const byWords = new Map<string, Rider[]>();
  for (const rider of riders.filter(({ bikeColours }) => bikeColours.length > 0))
    byWords.set(rider.livery, [...(byWords.get(rider.livery) ?? []), rider]);
  return [...byWords].flatMap(([livery, together]): readonly AlikeRiders[] => {
    const keys = together.map(({ key }) => key);
    if (together.length < 2 || alike.some((set) => keys.every((key) => set.riders.includes(key)))) return [];
    const told = together.map(({ code, number, helmetColours }) => {
      const helmet = helmetColours?.[0]?.name;
      return [code, number === null ? null : `[${number}]`, helmet === undefined ? null : `(${helmet} helmet)`]
        .filter((part) => part !== null)
        .join(' ');
    });
    const sentence = `The words ${livery} fit more than one: ${told.join(', ')}.`;
    return [{ riders: keys, livery, sentence }];
  });
}

/** Takes them out of those that are left. */
function chainFrom(rider: Rider, left: Map<RiderKey, Rider>): readonly Rider[] {
  const found: Rider[] = [];
  const open = [rider.key];
  while (open.length > 0) {
    const next = left.get(open.pop()!);
    if (next === undefined) continue;
    left.delete(next.key);
    found.push(next);
    open.push(...(next.alike ?? []));
  }
  return found;
}

const TOLD = 3;
const percent = (share: number): number => Math.round(100 * share);

function colourSentence(what: string, colours: readonly ColourOfField[]): readonly string[] {
  if (colours.length === 0) return [`${what}: no colour is measured yet.`];
  const all = colours.reduce((sum, { riders }) => sum + riders.length, 0);
  const told = colours
    .slice(0, TOLD)
    .map(
      ({ colour, riders, share }) =>
        `${colour} ${riders.length} of ${all} (${percent(share.from)}–${percent(share.to)} %)`,
    );
  return [`${what}: ${told.join(', ')}.`];
}
