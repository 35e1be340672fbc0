/** Every screen worth asking now, in the order of asking. */
import type { Arrangement, Pass, Question } from '../arrange/types.js';
import type { RiderKey } from '../ids.js';
import { type AskedBefore, askedBefore, keyOf } from './askedBefore.js';
import { byWorth, gainOf, LEAST_GAIN_FRAMES, MOST_SHOWN, priceOf, worthShowing } from './price.js';
import type { AskInput, Candidate, Item, Screen } from './types.js';

/** Each pass in nobody's set, and each pair of riders, is on one screen at most. */
export function screensOf(input: AskInput): readonly Screen[] {
  const before = askedBefore(input);
  const { arrangement } = input;
  return [
    ...plainScreens(arrangement.questions),
    ...identityScreens(arrangement, before),
    ...oddOneOutScreens(arrangement, before),
  ].sort(byWorth);
}

const plainScreens = (questions: readonly Question[]): readonly Screen[] =>
  questions.flatMap((question): Screen[] =>
    question.kind === 'same-rider' ? [] : [{ kind: 'plain', id: question.id, question, ...priceOf(question.worth, 1) }],
  );

/** Who is one with whom, and whose the passes are: best screen first, then without what it settles the next. */
function identityScreens(arrangement: Arrangement, before: AskedBefore): readonly Screen[] {
  const open = openLinks(arrangement, before);
  const screens: Screen[] = [];
  const settled = new Set<Link>();
  for (;;) {
    const left = open.filter((link) => !settled.has(link));
    const best = [...lineUps(left), ...whosePasses(left)].sort((a, b) => byWorth(a.screen, b.screen))[0];
    if (best === undefined || best.screen.gainFrames < LEAST_GAIN_FRAMES) return screens;
    screens.push(best.screen);
    for (const link of best.links) for (const other of sameLink(link, open)) settled.add(other);
  }
}

/** An item that may be of a rider. */
interface Link extends Candidate {
  readonly of: RiderKey;
}

/** A pair of riders stands twice, once from each side. */
function openLinks({ questions, passes, unsure, riders }: Arrangement, before: AskedBefore): readonly Link[] {
  const isRider = new Set(riders.map(({ key }) => key));
  const pairs = questions.flatMap((question): Link[] => {
    if (question.kind !== 'same-rider') return [];
    const { a, b, confidence: chance, worth } = question;
    const [first, second]: [Item, Item] = [
      { kind: 'rider', rider: a },
      { kind: 'rider', rider: b },
    ];
    if (before.has(first, second)) return [];
    const frames = worth / Math.max(1e-9, chance);
    return [
      { of: a, item: second, chance, frames },
      { of: b, item: first, chance, frames },
    ];
  });
  const strays = (unsure ?? []).flatMap((index): Link[] => {
    const pass = passes[index]!;
    const item: Item = { kind: 'pass', pass: index };
    return likelyRiders(pass)
      .filter(({ rider }) => isRider.has(rider) && !before.has({ kind: 'rider', rider }, item))
      .map(({ rider, chance }) => ({ of: rider, item, chance, frames: pass.bikes.length }));
  });
  return [...pairs, ...strays];
}

/** Of what is not the rider's it was guessed to be, the share that is its rival's: seen on simulated days. */
const RIVAL_SHARE = 0.5;

function likelyRiders({ rider, rival, confidence = 0.5 }: Pass): readonly { rider: RiderKey; chance: number }[] {
  const guessed = { rider, chance: confidence };
  return rival === undefined ? [guessed] : [guessed, { rider: rival, chance: RIVAL_SHARE * (1 - confidence) }];
}

/** What is settled with a link: the same pair from its other side; for a pass, all that may have it. */
function sameLink({ of, item }: Link, open: readonly Link[]): readonly Link[] {
  if (item.kind === 'pass') return open.filter((other) => keyOf(other.item) === keyOf(item));
  const isPair = (a: RiderKey, b: Item): boolean => b.kind === 'rider' && a === of && b.rider === item.rider;
  return open.filter(
    (other) =>
      isPair(other.of, other.item) ||
      (other.item.kind === 'rider' && isPair(other.item.rider, { kind: 'rider', rider: other.of })),
  );
}

interface Choice {
  readonly screen: Screen;
  readonly links: readonly Link[];
}

function lineUps(links: readonly Link[]): readonly Choice[] {
  return [...grouped(links, ({ of }) => of)].map(([of, own]) => {
    const shown = worthShowing(own);
    const gain = shown.reduce((sum, one) => sum + gainOf(one), 0);
    const id = `line-up ${of} ${shown.map(({ item }) => keyOf(item)).join(' ')}`;
    return { links: shown, screen: { kind: 'line-up', id, of, shown, ...priceOf(gain, shown.length) } };
  });
}

function whosePasses(links: readonly Link[]): readonly Choice[] {
  const ofPasses = links.flatMap((link) => (link.item.kind === 'pass' ? [{ link, pass: link.item.pass }] : []));
  return [...grouped(ofPasses, ({ pass }) => pass)].flatMap(([pass, own]): Choice[] => {
    if (own.length < 2) return [];
    const likeliest = own.map(({ link }) => link).sort((a, b) => b.chance - a.chance);
    const gain = likeliest.reduce((sum, one) => sum + gainOf(one), 0);
    const riders = likeliest.map(({ of }) => of);
    const id = `whose-pass ${pass} ${riders.join(' ')}`;
    return [{ links: likeliest, screen: { kind: 'whose-pass', id, pass, riders, ...priceOf(gain, riders.length) } }];
  });
}

/** From so many passes on a set can hide somebody else's. */
const LEAST_PASSES = 4;
const SURE_FROM = 0.98;

function oddOneOutScreens({ riders, passes }: Arrangement, before: AskedBefore): readonly Screen[] {
  return riders.flatMap((rider): Screen[] => {
    const own = rider.passes.map((index) => passes[index]!);
    if (own.length < LEAST_PASSES) return [];
    const doubtful = own
      .filter((pass) => (pass.confidence ?? 1) < SURE_FROM && !before.hasInSet(pass))
      .sort((a, b) => (a.confidence ?? 1) - (b.confidence ?? 1))
      .slice(0, MOST_SHOWN);
    const gain = doubtful.reduce((sum, { confidence = 1, bikes }) => sum + (1 - confidence) * bikes.length, 0);
    if (doubtful.length === own.length || gain < LEAST_GAIN_FRAMES) return [];
    const rest = own
      .filter((pass) => !doubtful.includes(pass))
      .sort((a, b) => (b.confidence ?? 1) - (a.confidence ?? 1));
    return [
      {
        kind: 'odd-one-out',
        id: `odd-one-out ${rider.key}`,
        rider: rider.key,
        passes: doubtful.map(({ index }) => index),
        rest: rest.map(({ index }) => index),
        ...priceOf(gain, doubtful.length),
      },
    ];
  });
}

function grouped<One, Key>(list: readonly One[], keyOfOne: (one: One) => Key): ReadonlyMap<Key, readonly One[]> {
  const groups = new Map<Key, One[]>();
  for (const one of list) {
    const own = groups.get(keyOfOne(one));
    if (own === undefined) groups.set(keyOfOne(one), [one]);
    else own.push(one);
  }
  return groups;
}
