/**
 * How many riders of a group no picture of a session shows, as a range: rules CV15–CV19.
 *
 * Two things speak of it. How often those who are seen were seen (Chao 1987; see `numeric/chao1`). And who of the group is
 * known from its other sessions of the day but not seen in this one: on the track and missed, or not out. The number u
 * missed of m known and not seen is weighed by
 *   P(u) ∝ NegativeBinomial(u; Chao's estimate and variance) · BetaBinomial(m − u not out of K; how many usually are not),
 * and those whom no session shows come on top. Found riders may be pieces of one: each counts by the chance that it is
 * somebody of its own, and what is uncertain about that widens the range.
 */
import type { Arrangement, Session } from '../arrange/types.js';
import type { RiderKey } from '../ids.js';
import type { FoldedLog } from '../log/types.js';
import { chao1 } from '../numeric/chao1.js';
import type { WallMs } from '../units.js';
import { betaBinomial, binomial, negativeBinomial, rangeOf } from './countChances.js';
import type { Unseen } from './types.js';

/** The organiser's count of a group on the track, from a moment on. */
export interface HeadCount {
  readonly at: WallMs;
  readonly group: string;
  readonly riders: number;
}

/** Head counts in force, in the order in which they were said. */
export const headCountsOf = (log: FoldedLog): readonly HeadCount[] =>
  log.inForce
    .map(({ decision }) => decision)
    .filter((decision) => decision.kind === 'head-count')
    .map(({ at, group, riders }) => ({ at, group, riders }));

/** Fewer riders than this say nothing of others. */
const LEAST_SEEN = 3;
/** How firmly it is believed that a session is ridden like the others of its group: riders' worth of evidence. */
const ATTENDANCE_FIRMNESS = 30;
/** Share of a group that is out for a session when nothing is known, and how many sessions of one rider that is worth. */
const USUALLY_OUT = 0.92;
const USUAL_WEIGHT = 20;
/** Of found riders, those that are somebody of their own before it is asked in how many sessions they are. */
const OWN_SHARE = 0.7;
/** Pieces of riders are mostly of one session: each further one is so much rarer. */
const PIECE_FURTHER = 0.25;
/** A rider of the group is seen in so many of its sessions: out in them, and met. */
const SEEN_SHARE = 0.88;

/** Sessions with a group in which at least {@link LEAST_SEEN} riders were seen, or whose heads were counted. */
export function unseenRiders(arrangement: Arrangement, headCounts: readonly HeadCount[]): readonly Unseen[] {
  const times = timesSeen(arrangement);
  const shown = arrangement.sessions.filter(({ index }) => times[index]!.size >= LEAST_SEEN);
  const near = arrangement.sessions.map((session) => nearSessions(session, shown));
  const seenIn = seenOf(arrangement, times, near);
  return arrangement.sessions.flatMap((session) => {
    const seen = seenIn[session.index]!;
    const count = headCountOf(session, headCounts);
    if (count !== null) return [byHeadCount(session, seen, count)];
    if (seen.length < LEAST_SEEN) return [];
    return [byRecapture(session, seen, near[session.index]!, seenIn)];
  });
}

/** A rider seen in a session: how often, and the chance that this is somebody else than all others. */
interface Seen {
  readonly rider: RiderKey;
  readonly times: number;
  readonly weight: number;
}

/**
 * What questions say of each found rider being somebody of its own: less where it is asked whether it is the same as a
 * rider with more passes.
 */
function askedWeights({ riders, questions }: Arrangement): ReadonlyMap<RiderKey, number> {
  const passes = new Map(riders.map(({ key, passes: own }) => [key, own.length]));
  const weights = new Map(riders.map(({ key }) => [key, 1]));
  for (const question of questions) {
    if (question.kind !== 'same-rider') continue;
    const { a, b, confidence } = question;
    const smaller = (passes.get(a) ?? 0) <= (passes.get(b) ?? 0) ? a : b;
    weights.set(smaller, (weights.get(smaller) ?? 1) * (1 - confidence));
  }
  return weights;
}

/**
 * The chance that somebody found in k of a group's n sessions is a rider of their own and not a piece of one: riders are
 * in nearly all of them (binomial), pieces in one or two (geometric).
 */
function ownChance(k: number, n: number): number {
  if (n < 2) return 1;
  const own = OWN_SHARE * binomial(k, n, SEEN_SHARE);
  const pieces = (1 - PIECE_FURTHER) / (1 - PIECE_FURTHER ** n);
  const piece = (1 - OWN_SHARE) * pieces * PIECE_FURTHER ** (k - 1);
  return own / (own + piece);
}

/** Per session, riders seen in it. A person's word leaves no doubt. */
function seenOf(
  arrangement: Arrangement,
  times: readonly ReadonlyMap<RiderKey, number>[],
  near: readonly (readonly Session[])[],
): readonly (readonly Seen[])[] {
  const riders = new Map(arrangement.riders.map((rider) => [rider.key, rider]));
  const asked = askedWeights(arrangement);
  return times.map((own, session) =>
    [...own].map(([rider, count]): Seen => {
      const sessions = near[session]!;
      const found = sessions.filter(({ index }) => times[index]!.has(rider)).length;
      const { source, id } = riders.get(rider) ?? { source: { kind: 'measured' }, id: null };
      const isSaid = source.kind === 'said' || id !== null;
      return { rider, times: count, weight: isSaid ? 1 : ownChance(found, sessions.length) * (asked.get(rider) ?? 1) };
    }),
  );
}

/** Per session, how often each rider was seen; instructors and passes that are nobody's left out. */
function timesSeen(arrangement: Arrangement): readonly ReadonlyMap<RiderKey, number>[] {
  const unsure = new Set(arrangement.unsure ?? []);
  const instructors = new Set(arrangement.riders.filter(({ isInstructor }) => isInstructor).map(({ key }) => key));
  const times = arrangement.sessions.map(() => new Map<RiderKey, number>());
  for (const { session, rider, index } of arrangement.passes) {
    const own = times[session];
    if (own === undefined || unsure.has(index) || instructors.has(rider)) continue;
    own.set(rider, (own.get(rider) ?? 0) + 1);
  }
  return times;
}

/** The last count that had been said to hold when the session ended; of two from one moment, the later word. */
function headCountOf({ group, end }: Session, counts: readonly HeadCount[]): number | null {
  const own = counts.filter((count) => count.group === group && count.at <= end);
  return (
    own.reduce<HeadCount | null>((last, next) => (last === null || next.at >= last.at ? next : last), null)?.riders ??
    null
  );
}

/** Riders more likely somebody of their own than not. */
const countOf = (seen: readonly Seen[]): number => seen.filter(({ weight }) => weight >= 0.5).length;

const weightOf = (seen: readonly Seen[]): number => seen.reduce((sum, { weight }) => sum + weight, 0);

/** How far the number of riders seen may be off, two standard deviations of who is somebody of their own. */
const doubtOf = (seen: readonly Seen[]): number =>
  2 * Math.sqrt(seen.reduce((sum, { weight }) => sum + weight * (1 - weight), 0));

function byHeadCount(session: Session, seen: readonly Seen[], count: number): Unseen {
  const sure = weightOf(seen);
  const doubt = doubtOf(seen);
  const isTooFew = Math.ceil(count - sure + doubt) < 0;
  return {
    session: session.index,
    group: session.group,
    seen: countOf(seen),
    ...(isTooFew && { contradicts: tooFewCounted(session, countOf(seen), count) }),
    fromRiders: Math.max(0, Math.floor(count - sure - doubt)),
    toRiders: Math.max(0, Math.ceil(count - sure + doubt)),
    reason: `${count} riders were counted, ${countOf(seen)} are seen.`,
    source: 'head-count',
  };
}

/** A count below what pictures show, whatever is uncertain about who is who. */
const tooFewCounted = ({ name, group }: Session, seen: number, count: number): string =>
  `${count} ${count === 1 ? 'rider' : 'riders'} of ${group} were counted, but ${seen} are seen in ${name}: the count holds for ` +
  'another moment or group, or riders are shown in two. Say the count again, or join them.';

function byRecapture(
  session: Session,
  seen: readonly Seen[],
  near: readonly Session[],
  seenIn: readonly (readonly Seen[])[],
): Unseen {
  const group = groupKnown(session, near, seenIn);
  const here = chao1(seen);
  const [from, to] = rangeOf(withNeverSeen(missedChances(here, group), group.never));
  const doubt = doubtOf(seen) / 2;
  return {
    session: session.index,
    group: session.group,
    seen: countOf(seen),
    fromRiders: Math.max(0, Math.floor(from - doubt)),
    toRiders: Math.ceil(to + doubt),
    reason: reasonOf(seen, group),
    source: 'capture-recapture',
  };
}

interface GroupKnown {
  /** Riders known of the group in that half of the day, by weight, and those of them not seen in this session. */
  readonly riders: number;
  readonly notSeen: number;
  /** Of those not seen, the riders more likely somebody of their own than not. */
  readonly elsewhere: number;
  /** Share of sessions a rider is out in. */
  readonly isOut: number;
  /** Riders expected whom none of the sessions shows. */
  readonly never: number;
  readonly sessions: number;
}

/** Longer than this between two sessions of a group is lunch, or the night: riders come, go and change group there. */
const LUNCH_MS = 75 * 60_000;

/** Sessions of the same group without a lunch between them, of those in which riders were seen. */
function nearSessions(session: Session, shown: readonly Session[]): readonly Session[] {
  if (session.group === null || !shown.includes(session)) return [session];
  const own = shown.filter(({ group }) => group === session.group);
  const at = own.indexOf(session);
  const gapAfter = (i: number): number => own[i + 1]!.start - own[i]!.end;
  let first = at;
  let last = at;
  while (first > 0 && gapAfter(first - 1) < LUNCH_MS) first--;
  while (last < own.length - 1 && gapAfter(last) < LUNCH_MS) last++;
  return own.slice(first, last + 1);
}

function groupKnown(session: Session, near: readonly Session[], seenIn: readonly (readonly Seen[])[]): GroupKnown {
  const weights = new Map(near.flatMap(({ index }) => seenIn[index]!).map(({ rider, weight }) => [rider, weight]));
  const riders = [...weights.values()].reduce((sum, weight) => sum + weight, 0);
  const missed = near.reduce((sum, { index }) => sum + chao1(seenIn[index]!).unseen, 0);
  const seen = near.reduce((sum, { index }) => sum + weightOf(seenIn[index]!), 0);
  const slots = riders * near.length;
  const isOut = (Math.min(slots, seen + missed) + USUALLY_OUT * USUAL_WEIGHT) / (slots + USUAL_WEIGHT);
  const notSeen = Math.max(0, riders - weightOf(seenIn[session.index]!));
  const here = new Set(seenIn[session.index]!.map(({ rider }) => rider));
  const elsewhere = [...weights].filter(([rider, weight]) => weight >= 0.5 && !here.has(rider)).length;
  const out = near.length < 2 ? USUALLY_OUT : isOut;
  const never = near.reduce((left, { index }) => {
    const { seen: met, unseen } = chao1(seenIn[index]!);
    return left * (1 - (out * met) / Math.max(1e-9, met + unseen));
  }, riders);
  return { riders, notSeen, elsewhere, isOut: out, never: near.length < 2 ? 0 : never, sessions: near.length };
}

/** A Poisson's number of riders whom no session shows, on top. */
function withNeverSeen(missed: readonly number[], never: number): readonly number[] {
  if (never < 1e-6) return missed;
  const most = Math.ceil(never + 6 * Math.sqrt(never)) + 2;
  const sum = new Array<number>(missed.length + most).fill(0);
  for (const [u, chance] of missed.entries())
    for (let k = 0; k <= most; k++) sum[u + k] = (sum[u + k] ?? 0) + chance * negativeBinomial(k, never, never);
  return sum;
}

/** Chances of 0, 1, … riders missed. */
function missedChances(here: ReturnType<typeof chao1>, group: GroupKnown): readonly number[] {
  const mean = here.unseen + 0.5;
  const byCounts = (u: number): number => negativeBinomial(u, mean, mean + here.variance);
  if (group.sessions < 2) {
    const most = Math.ceil(mean + 6 * Math.sqrt(mean + here.variance)) + 5;
    return Array.from({ length: most + 1 }, (_, u) => byCounts(u));
  }
  const known = Math.round(group.riders);
  const notSeen = Math.round(group.notSeen);
  return Array.from(
    { length: notSeen + 1 },
    (_, u) => byCounts(u) * betaBinomial(notSeen - u, known, 1 - group.isOut, ATTENDANCE_FIRMNESS),
  );
}

function reasonOf(seen: readonly Seen[], { sessions, elsewhere }: GroupKnown): string {
  const once = seen.filter(({ times }) => times === 1).length;
  const others = sessions < 2 ? '' : `, and ${elsewhere} of the group were seen in its other sessions only`;
  return `${once} of ${seen.length} riders went by in pictures once${others}.`;
}
