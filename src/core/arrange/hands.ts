/**
 * Which bodies one photographer holds: whoever changes between two bodies stands at one spot with both and never
 * releases both at once. Two photographers do, as often as chance has it. A wrong "one hand" would forbid right links
 * by the lap, so it takes clear evidence of the day; where that is missing, each body stands for itself.
 */

export interface TakenPass {
  readonly session: number;
  readonly body: string;
  readonly start: number;
  readonly end: number;
}

/** Nobody lays one camera down, lifts another and aims within a second; common practice, no source. */
const CHANGE_MS = 1000;
/** So many chance meetings must be missing: none where five are due happens to two photographers once in 150 days. */
const LEAST_EXPECTED = 5;
/** Of those due, so many may be there: clocks of whole seconds, a body fired from afar, a quick hand. */
const MOST_MET = 0.1;
/** In a session with as many, two people stood all the same. */
const APART_FROM = 3;

/** @returns of a body in a session the hand that held it, by name; the body's own name where no other is known to share it. */
export function handsOf(passes: readonly TakenPass[]): (body: string, session: number) => string {
  const spans = spansOf(passes);
  const bodies = [...new Set(passes.map(({ body }) => body))].sort();
  const hands = new Map(bodies.map((body) => [body, body]));
  const apart = new Set<string>();
  bodies.forEach((second, b) => {
    for (const first of bodies.slice(0, b)) {
      const met = meetings(spans.get(first)!, spans.get(second)!);
      if (!isOneHand(met)) continue;
      const [from, to] = [hands.get(second)!, hands.get(first)!];
      for (const body of bodies) if (hands.get(body) === from) hands.set(body, to);
      for (const { session, seen } of met) if (seen >= APART_FROM) apart.add(`${session}`);
    }
  });
  return (body, session) => (apart.has(`${session}`) ? body : (hands.get(body) ?? body));
}

interface Span {
  readonly start: number;
  end: number;
}

type Spans = ReadonlyMap<number, readonly Span[]>;

/** Per body and session the stretches in which it took pictures. */
function spansOf(passes: readonly TakenPass[]): ReadonlyMap<string, Spans> {
  const all = new Map<string, Map<number, Span[]>>();
  for (const { body, session, start, end } of [...passes].sort((a, b) => a.start - b.start)) {
    if (session < 0) continue;
    const own = all.get(body) ?? new Map<number, Span[]>();
    all.set(body, own);
    const list = own.get(session) ?? [];
    own.set(session, list);
    const last = list.at(-1);
    if (last !== undefined && start <= last.end) last.end = Math.max(last.end, end);
    else list.push({ start, end });
  }
  return all;
}

interface Met {
  readonly session: number;
  readonly seen: number;
  /** As many would be seen of two people who know nothing of each other. */
  readonly expected: number;
}

function isOneHand(met: readonly Met[]): boolean {
  const expected = met.reduce((sum, one) => sum + one.expected, 0);
  const seen = met.reduce((sum, one) => sum + one.seen, 0);
  return expected >= LEAST_EXPECTED && seen <= MOST_MET * expected;
}

function meetings(a: Spans, b: Spans): readonly Met[] {
  return [...a].flatMap(([session, first]) => {
    const second = b.get(session);
    return second === undefined ? [] : [{ session, ...metIn(first, second) }];
  });
}

/** While both were in use. */
function metIn(a: readonly Span[], b: readonly Span[]): Omit<Met, 'session'> {
  const from = Math.max(a[0]!.start, b[0]!.start);
  const to = Math.min(a.at(-1)!.end, b.at(-1)!.end);
  const within = ({ start, end }: Span): boolean => end >= from && start <= to;
  const [first, second] = [a.filter(within), b.filter(within)];
  if (to <= from || first.length === 0 || second.length === 0) return { seen: 0, expected: 0 };
  const length = second.reduce((sum, { start, end }) => sum + end - start, 0) / second.length;
  const expected = first.reduce((sum, { start, end }) => {
    const share = Math.min(1, (end - start + length + 2 * CHANGE_MS) / (to - from));
    return sum + 1 - (1 - share) ** second.length;
  }, 0);
  const isNear = (one: Span, other: Span): boolean =>
    Math.max(one.start, other.start) - Math.min(one.end, other.end) < CHANGE_MS;
  return { seen: first.filter((one) => second.some((other) => isNear(one, other))).length, expected };
}
