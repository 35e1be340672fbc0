/** Every screen worth asking now, in the order of asking. */
import type { Arrangement, BikeRef, Pass, Question } from '../arrange/types.js';
import type { RiderKey } from '../ids.js';
import { type AskedBefore, askedBefore } from './askedBefore.js';
import { byWorth, gainOf, isWorthShowing, LEAST_WORTH, MOST_SHOWN, priceOf, worthShowing } from './price.js';
import type { AskInput, Candidate, Screen } from './types.js';

/** Each pass in nobody's set, and each pair of riders, is on one screen at most. */
export function screensOf(input: AskInput): readonly Screen[] {
  const before = askedBefore(input);
  const { arrangement } = input;
  return [
    ...plainScreens(arrangement.questions),
    ...[
      ...lineUps(arrangement.questions, before),
      ...whosePasses(arrangement, before),
      ...oddOneOuts(arrangement, before),
    ].filter(({ worth }) => worth >= LEAST_WORTH),
  ].sort(byWorth);
}

const plainScreens = (questions: readonly Question[]): readonly Screen[] =>
  questions.flatMap((question): Screen[] =>
    question.kind === 'same-rider' ? [] : [{ kind: 'plain', id: question.id, question, ...priceOf(question.worth, 1) }],
  );

/** A pair of riders that may be one, from one of its sides. */
interface Link extends Candidate {
  readonly of: RiderKey;
  readonly id: string;
}

/** Who is one with whom: the best line-up first, then the best of the pairs that are left. */
function lineUps(questions: readonly Question[], before: AskedBefore): readonly Screen[] {
  const open = new Map([...grouped(openLinks(questions, before), ({ of }) => of)].map(([of, own]) => [of, [...own]]));
  const best = new Map([...open].map(([of, own]) => [of, lineUp(of, own)]));
  const screens: Screen[] = [];
  for (;;) {
    const next = [...best.values()].filter(({ shown }) => shown.length > 0).sort(byWorth)[0];
    if (next === undefined) return screens;
    screens.push(next);
    const settled = new Set(next.shown.map(({ id }) => id));
    for (const of of [next.of, ...next.shown.map(({ rider }) => rider)]) {
      const left = open.get(of)!.filter(({ id }) => !settled.has(id));
      open.set(of, left);
      best.set(of, lineUp(of, left));
    }
  }
}

function openLinks(questions: readonly Question[], before: AskedBefore): readonly Link[] {
  return questions.flatMap((question): Link[] => {
    if (question.kind !== 'same-rider' || before.hasRiders(question.a, question.b)) return [];
    const { id, a, b, confidence: chance, worth } = question;
    const frames = worth / Math.max(1e-9, chance);
    return [
      { id, of: a, rider: b, chance, frames },
      { id, of: b, rider: a, chance, frames },
    ];
  });
}

function lineUp(of: RiderKey, links: readonly Link[]) {
  const shown = worthShowing(links);
  const gain = shown.reduce((sum, one) => sum + gainOf(one, shown.length), 0);
  const id = `line-up ${of} ${shown.map(({ rider }) => rider).join(' ')}`;
  return { kind: 'line-up', id, of, shown, ...priceOf(gain, shown.length) } as const;
}

/** Of what is not the rider's it was guessed to be, the shares that are its rival's and its look-alikes': seen on simulated days. */
const RIVAL_SHARE = 0.5;
const ALIKE_SHARE = 0.3;
const MOST_LIKELY = 8;

function whosePasses({ passes, unsure, riders }: Arrangement, before: AskedBefore): readonly Screen[] {
  const byKey = new Map(riders.map((rider) => [rider.key, rider]));
  return (unsure ?? []).flatMap((index): Screen[] => {
    const pass = passes[index]!;
    const likely = likelyRiders(pass, byKey.get(pass.rider)?.alike ?? []).filter(
      ({ rider }) => byKey.has(rider) && !before.hasPass(pass, rider),
    );
    const gain = likely.reduce((sum, { chance }) => sum + chance * pass.bikes.length, 0);
    const shown = likely.map(({ rider }) => rider);
    const [bike] = pass.bikes;
    const id = `whose-pass ${bike!.frameId}:${bike!.subject}`;
    return [{ kind: 'whose-pass', id, pass: index, riders: shown, ...priceOf(gain, shown.length) }];
  });
}

/** The rider it was guessed to be, who comes near, and who looks like the first. */
function likelyRiders(
  { rider, rival, confidence = 0.5 }: Pass,
  alike: readonly RiderKey[],
): readonly { readonly rider: RiderKey; readonly chance: number }[] {
  const others = alike.filter((other) => other !== rider && other !== rival).slice(0, MOST_LIKELY - 2);
  const doubt = 1 - confidence;
  return [
    { rider, chance: confidence },
    ...(rival === undefined ? [] : [{ rider: rival, chance: RIVAL_SHARE * doubt }]),
    ...others.map((other) => ({ rider: other, chance: (ALIKE_SHARE * doubt) / others.length })),
  ];
}

/** From so many passes on a set can hide somebody else's. */
const LEAST_PASSES = 4;

const textOf = ({ frameId, subject }: BikeRef): string => `${frameId}:${subject}`;

/** Of a pass, the frames that are expected to be somebody else's. */
const wrongFrames = ({ confidence = 1, bikes }: Pass): number => (1 - confidence) * bikes.length;

function oddOneOuts({ riders, passes }: Arrangement, before: AskedBefore): readonly Screen[] {
  return riders.flatMap((rider): Screen[] => {
    const own = rider.passes.map((index) => passes[index]!);
    if (own.length < LEAST_PASSES) return [];
    const doubtful = own
      .filter((pass) => isWorthShowing(wrongFrames(pass)) && !before.hasInSet(pass))
      .sort((a, b) => (a.confidence ?? 1) - (b.confidence ?? 1))
      .slice(0, MOST_SHOWN);
    const gain = doubtful.reduce((sum, pass) => sum + wrongFrames(pass), 0);
    if (doubtful.length === 0 || doubtful.length === own.length) return [];
    const rest = own
      .filter((pass) => !doubtful.includes(pass))
      .sort((a, b) => (b.confidence ?? 1) - (a.confidence ?? 1));
    return [
      {
        kind: 'odd-one-out',
        id: `odd-one-out ${textOf(rider.face)} ${textOf(doubtful[0]!.bikes[0]!)}`,
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
