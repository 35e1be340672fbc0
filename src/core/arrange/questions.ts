/** What the program is unsure of, as questions, most valuable first. */
import type { BodyKey, FileId, RiderId } from '../ids.js';
import { millisecondsOf, type WallMs } from '../units.js';
import { bodiesOf } from './correctedTime.js';
import type { FoundDay } from './foundDay.js';
import type { Cluster } from './riders/clusters.js';
import { type LikelyPair, likelyPairs } from './riders/likelyPairs.js';
import type { Contradiction } from './riders/statements.js';
import { riderOfCluster, type SaidDay } from './saidDay.js';
import type { BikeRef, Question, Rider } from './types.js';

type SameRider = Extract<Question, { kind: 'same-rider' }>;

/** Frames expected to come together, below which two riders are not worth a look even beside others. */
const LEAST_WORTH = 0.02;
/** That two riders with one number in one group are one: a number was misread as often as not. No source, by reasoning. */
const SAME_NUMBER_CHANCE = 0.5;

export function questionsOf(
  found: FoundDay,
  said: SaidDay,
  riders: readonly Rider[],
  refOf: (bike: number) => BikeRef,
): readonly Question[] {
  const questions = [
    ...clockQuestions(found),
    ...stepQuestions(found),
    ...contradictionQuestions(said, riders, refOf),
    ...settledQuestions(said, riders, refOf),
    ...numberQuestions(said, riders),
    ...boundaryQuestions(found),
    ...outsideDays(found),
    ...riderQuestions(found, said, riders),
  ];
  return questions.sort((a, b) => b.worth - a.worth || (a.id < b.id ? -1 : 1));
}

/** Worth: how many frames would lie wrong. */
function clockQuestions({ clocks, seen }: FoundDay): readonly Question[] {
  return clocks.flatMap(({ body, proposedOffsetMs, proposedFor, source }): Question[] => {
    if (proposedOffsetMs === undefined || source.kind !== 'guessed') return [];
    const frames = seen.exposures.filter((exposure) => exposure.body === body).length;
    return [
      {
        kind: 'body-clock',
        id: `body-clock ${body} ${proposedOffsetMs}`,
        body,
        ...proposedFor,
        offsetMs: proposedOffsetMs,
        reasons: source.reasons,
        worth: 10 + frames,
      },
    ];
  });
}

/** Worth: the frames of the stretch; it never stands behind the clock of the whole body. */
function stepQuestions({ clockSteps, seen }: FoundDay): readonly Question[] {
  return clockSteps.map(({ body, stretch, offsetMs, reasons }): Question => {
    const frames = seen.exposures.filter((exposure) => exposure.body === body).length;
    return {
      kind: 'body-clock',
      id: `body-clock ${body} ${offsetMs} ${stretch?.fromFrame ?? ''}-${stretch?.toFrame ?? ''}`,
      body,
      ...stretch,
      offsetMs: millisecondsOf(offsetMs),
      reasons,
      worth: 11 + frames,
    };
  });
}

/** One for two riders, however many pairs of their pictures it is about. */
function contradictionQuestions(
  said: SaidDay,
  riders: readonly Rider[],
  refOf: (bike: number) => BikeRef,
): readonly Question[] {
  const riderOf = (bike: number): number => said.labels[said.passOf[bike]!] ?? -1;
  const byRiders = new Map<string, Contradiction[]>();
  for (const one of said.contradictions) {
    const both = [riderOf(one.a), riderOf(one.b)];
    // Kept apart by one word and together by all others: the pictures are where the last word wanted them.
    if (both[0] === both[1] && one.kind !== 'said-both') continue;
    const key = both.some((rider) => rider < 0) ? `${one.a} ${one.b}` : both.sort((x, y) => x - y).join(' ');
    byRiders.set(key, [...(byRiders.get(key) ?? []), one]);
  }
  return [...byRiders.values()].map((own) => contradictionQuestion(own, said, riders, refOf));
}

function contradictionQuestion(
  own: readonly Contradiction[],
  said: SaidDay,
  riders: readonly Rider[],
  refOf: (bike: number) => BikeRef,
): Question {
  const { a, b, kind } = own[0]!;
  const pairs = unique(own.flatMap((one) => [[one.a, one.b] as const, ...(one.partedBy ?? [])])).map(
    ([one, other]) => [refOf(one), refOf(other)] as const,
  );
  const ids = [refOf(a), refOf(b)].map(({ frameId, subject }) => `${frameId}:${subject}`).join(' ');
  return {
    kind: 'contradiction',
    id: `contradiction ${kind} ${ids}`,
    sentence: contradictionSentence(kind, namedPair(a, b, said, riders)),
    worth: 60,
    between: { pairs, canBeOne: kind !== 'one-frame' },
  };
}

const unique = (pairs: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] => [
  ...new Map(pairs.map((pair) => [[...pair].sort((x, y) => x - y).join(' '), pair])).values(),
];

function namedPair(a: number, b: number, { labels, passOf }: SaidDay, riders: readonly Rider[]): string {
  const nameOf = (bike: number): string | undefined => riders[labels[passOf[bike]!] ?? -1]?.code;
  const [first, second] = [nameOf(a), nameOf(b)];
  if (first !== undefined && first === second) return `Two pictures of ${first}`;
  return `${first ?? 'A bike'} and ${second ?? 'a bike'}`;
}

const contradictionSentence = (kind: Contradiction['kind'], pair: string): string =>
  ({
    'said-both': `${pair} were called one rider and also two; the later word is followed until you answer.`,
    'follows-from-others': `${pair} were called one rider, but others say that they are two; they are kept apart.`,
    'one-frame': `${pair} were called one rider, but they are two bikes in one picture; they are kept apart.`,
    laps: `${pair} were called one rider, but again and again they were out closer together than a lap; they are kept apart. If they are one all the same, say so once more.`,
  })[kind];

/** Pictures that a settled rider keeps though they were found to be another's. */
function settledQuestions(
  { settled, labels, passes }: SaidDay,
  riders: readonly Rider[],
  refOf: (bike: number) => BikeRef,
): readonly Question[] {
  return settled.held.map(({ id, files, passes: held }): Question => {
    const frames = held.reduce((sum, p) => sum + passes[p]!.bikes.length, 0);
    const rider = riders[labels[held[0]!]!]!;
    const { code } = rider;
    const many = frames === 1 ? '1 picture of' : `${frames} pictures of`;
    const sentence = `${many} ${code}, which you settled, now fit another rider better; they stay with ${code} until somebody takes them out.`;
    const own = rider.passes.find((p) => !held.includes(p));
    const between = own === undefined ? {} : { between: heldBetween(held, own, { rider: id, files }, passes, refOf) };
    return { kind: 'contradiction', id: `settled ${id} ${frames}`, sentence, worth: 10 + frames, ...between };
  });
}

function heldBetween(
  held: readonly number[],
  own: number,
  heldBy: { readonly rider: RiderId; readonly files: readonly FileId[] },
  passes: SaidDay['passes'],
  refOf: (bike: number) => BikeRef,
) {
  const other = refOf(passes[own]!.bikes[0]!);
  return { pairs: held.map((p) => [refOf(passes[p]!.bikes[0]!), other] as const), canBeOne: true, heldBy };
}

/** Riders of whom two numbers were said: one of two bikes was taken for this rider's, or a finger slipped. */
function numberQuestions({ identityOf }: SaidDay, riders: readonly Rider[]): readonly Question[] {
  return riders.flatMap(({ key, code, passes }, r): Question[] => {
    const { number, otherNumber } = identityOf(r);
    if (otherNumber === null) return [];
    const sentence = `${code} was said to be ${otherNumber}, and then ${number}; ${number} is shown. Say the right number once more, or take out what is another rider’s.`;
    return [
      { kind: 'contradiction', id: `number ${key} ${otherNumber} ${number}`, sentence, worth: 10 + passes.length },
    ];
  });
}

/** Slots this far from a frame on every side say that it was not taken at this meeting, as its clock stands. */
const FURTHEST_FROM_SLOTS_MS = 12 * 3_600_000;

/** Frames that no day of the timetable holds, body by body: nothing is lost, but they are in no slot. */
function outsideDays({ seen, walls, timetable }: FoundDay): readonly Question[] {
  const slots = timetable?.slots ?? [];
  if (slots.length === 0) return [];
  const isOutside = (wall: WallMs): boolean =>
    slots.every(({ start, end }) => wall < start - FURTHEST_FROM_SLOTS_MS || wall > end + FURTHEST_FROM_SLOTS_MS);
  const days = spanOfDays(slots.map(({ start }) => start));
  return [...bodiesOf(seen.exposures)].sort().flatMap(([body, own]): Question[] => {
    const outside = own.map((i) => walls[i] ?? null).filter((wall): wall is WallMs => wall !== null && isOutside(wall));
    if (outside.length === 0) return [];
    const many = outside.length === 1 ? '1 frame of' : `${outside.length} frames of`;
    const sentence =
      `${many} ${namedBody(body)} were taken on ${spanOfDays(outside)} by its clock, but the timetable is of ${days}. ` +
      'They stand outside its sessions. Put the clock of that body right, or mend the timetable.';
    return [{ kind: 'contradiction', id: `outside-days ${body}`, sentence, worth: 10 + outside.length }];
  });
}

function spanOfDays(walls: readonly WallMs[]): string {
  const dayOf = (wall: number): string => new Date(wall).toISOString().slice(0, 10);
  const first = dayOf(walls.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY));
  const last = dayOf(walls.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY));
  return first === last ? first : `${first} to ${last}`;
}

function namedBody(body: BodyKey): string {
  const [, model, serial] = body.split('|');
  if (!serial || serial.startsWith('fill:')) return model ? `body ${model}` : 'a body without a serial';
  return `body ${model ? `${model} ` : ''}…${serial.slice(-4)}`;
}

function boundaryQuestions({ sessions }: FoundDay): readonly Question[] {
  return sessions.slice(1).flatMap((session): Question[] => {
    const { startSource, groupSource, start, frames } = session;
    const isDoubtful = groupSource.kind === 'guessed' && groupSource.confidence > 0 && groupSource.confidence < 0.6;
    if (startSource.kind !== 'guessed' || !isDoubtful) return [];
    const reasons = [...startSource.reasons, ...groupSource.reasons];
    return [{ kind: 'boundary', id: `boundary ${start}`, at: start, reasons, worth: 0.3 * frames.length }];
  });
}

/** Pairs of riders that may be one, and of which nobody said that they are two; worth: frames that would come together. */
function riderQuestions(found: FoundDay, said: SaidDay, riders: readonly Rider[]): readonly Question[] {
  const { clustering, field } = found;
  const riderAt = clustering.clusters.map((cluster) => riderOfCluster(cluster, found.passes, said));
  const apart = saidApart(said);
  const best = new Map<string, SameRider>();
  for (const { a, b, chance } of openPairs(likelyPairs(clustering, field), riderAt, clustering.clusters, apart)) {
    const known = best.get(`${a} ${b}`);
    if (known !== undefined && known.confidence >= chance) continue;
    const question = sameRider(riders[a]!, riders[b]!, chance, said.passes);
    if (question.worth >= LEAST_WORTH) best.set(`${a} ${b}`, question);
  }
  for (const [first, second] of sameNumber(riders, said)) {
    const key = `${first} ${second}`;
    if (apart.has(key) || (best.get(key)?.confidence ?? 0) >= SAME_NUMBER_CHANCE) continue;
    best.set(key, sameRider(riders[first]!, riders[second]!, SAME_NUMBER_CHANCE, said.passes));
  }
  return [...best.values()];
}

interface OpenPair {
  /** As numbered now, the first before the second. */
  readonly a: number;
  readonly b: number;
  readonly chance: number;
}

/** What a person said of a piece makes the rest likelier: whose it is not, or that it is somebody's already. */
function* openPairs(
  pairs: readonly LikelyPair[],
  riderAt: readonly number[],
  clusters: readonly Cluster[],
  apart: ReadonlySet<string>,
): Iterable<OpenPair> {
  const largest = new Map<number, number>();
  clusters.forEach(({ passes }, c) => {
    const before = largest.get(riderAt[c]!);
    if (before === undefined || passes.length > clusters[before]!.passes.length) largest.set(riderAt[c]!, c);
  });
  const denied = new Float64Array(clusters.length);
  const open: (OpenPair & { readonly small: number })[] = [];
  for (const { small, large, chance } of pairs) {
    const [a, b] = [riderAt[small]!, riderAt[large]!].sort((one, other) => one - other) as [number, number];
    if (a < 0 || a === b || largest.get(riderAt[small]!) !== small) continue;
    if (apart.has(`${a} ${b}`)) denied[small] = denied[small]! + chance;
    else open.push({ a, b, chance, small });
  }
  for (const { a, b, chance, small } of open) yield { a, b, chance: chance / (1 - denied[small]!) };
}

/** Pairs with one number in one group, and in one class where that was said, whom looks, or a wrong pass, keep apart: the same number, different bike? */
function* sameNumber(riders: readonly Rider[], { identityOf }: SaidDay): Iterable<readonly [number, number]> {
  for (const [second, b] of riders.entries())
    for (const [first, a] of riders.slice(0, second).entries()) {
      if (a.number === null || a.number !== b.number) continue;
      const classes = [identityOf(first).numberClass, identityOf(second).numberClass];
      if (!classes.includes(null) && classes[0] !== classes[1]) continue;
      if (a.group === null || b.group === null || a.groups.some((group) => b.groups.includes(group)))
        yield [first, second];
    }
}

function sameRider(a: Rider, b: Rider, confidence: number, passes: SaidDay['passes']): SameRider {
  const framesOf = (rider: Rider): number => rider.passes.reduce((sum, p) => sum + passes[p]!.bikes.length, 0);
  return {
    kind: 'same-rider',
    id: `same-rider ${a.key} ${b.key}`,
    a: a.key,
    b: b.key,
    faces: [a.face, b.face],
    confidence,
    reasons: reasonsFor(b, a),
    worth: confidence * Math.min(framesOf(a), framesOf(b)),
  };
}

/** Pairs of riders between whom somebody said `different`. */
function saidApart({ statements, passOf, labels }: SaidDay): ReadonlySet<string> {
  const riderAt = (bike: number): number => (passOf[bike]! < 0 ? -1 : labels[passOf[bike]!]!);
  return new Set(
    statements.different.map(([a, b]) => [riderAt(a), riderAt(b)].sort((one, other) => one - other).join(' ')),
  );
}

function reasonsFor(a: Rider, b: Rider): readonly string[] {
  const reasons = [a.livery === b.livery ? `both ${a.livery}` : `${b.livery}; ${a.livery}`];
  if (a.group !== null && b.group !== null)
    reasons.push(a.group === b.group ? `both in group ${a.group}` : `groups ${b.group} and ${a.group}`);
  if (a.number !== null && a.number === b.number)
    reasons.push(`both show ${a.number}: the same number, different bike?`);
  return reasons;
}
