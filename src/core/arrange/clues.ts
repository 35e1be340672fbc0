/** What ties a rider's passes to each other, in words. No clue is named that this very rider does not give. */
import type { FoundDay } from './foundDay.js';
import type { SaidDay } from './saidDay.js';

type Pass = SaidDay['passes'][number];

/** Of one pass and the rider's others: looks always, the rest as far as there is something to hold it against. */
export function cluesOfPass(p: number, own: readonly number[], found: FoundDay, said: SaidDay): readonly string[] {
  const pass = said.passes[p]!;
  const others = own.flatMap((q) => (q === p ? [] : [said.passes[q]!]));
  const group = groupOf(pass, found);
  const numbers = numbersOf(pass, said);
  return [
    'looks',
    ...(hasLap(pass, others, found) ? ['laps'] : []),
    ...(others.some((other) => other.session !== pass.session && group !== null && groupOf(other, found) === group)
      ? ['group']
      : []),
    ...(numbers.length > 0 && others.some((other) => numbersOf(other, said).some((text) => numbers.includes(text)))
      ? ['number']
      : []),
  ];
}

/** Of a whole rider: where it was seen, what was read, how its laps lie, and which pass holds most loosely. */
export function cluesOfRider(own: readonly number[], found: FoundDay, said: SaidDay): readonly string[] {
  const passes = own.map((p) => said.passes[p]!);
  const sessions = new Set(passes.map(({ session }) => session)).size;
  const spots = new Set(passes.flatMap(({ spot }) => spot ?? [])).size;
  const at = spots === 0 ? '' : ` at ${counted(spots, 'spot')}`;
  return [
    `${counted(own.length, 'pass', 'passes')} in ${counted(sessions, 'session')}${at}`,
    ...numberWords(passes, said),
    ...lapWords(passes, found),
    ...groupWords(passes, found),
    ...saidWords(own, said),
  ];
}

const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

const groupOf = ({ session }: Pass, { sessions }: FoundDay): string | null => sessions[session]?.group ?? null;

/** A pass never changes, and each is asked about once for every other of its rider. */
const numbersRead = new WeakMap<Pass, readonly string[]>();

function numbersOf(pass: Pass, said: SaidDay): readonly string[] {
  const before = numbersRead.get(pass);
  if (before !== undefined) return before;
  const read = pass.bikes.flatMap((i) => said.bikes.subjects[i]!.numbers ?? []);
  const numbers = [...new Set(read.flatMap(({ isWhole, text }) => (isWhole ? [text] : [])))];
  numbersRead.set(pass, numbers);
  return numbers;
}

const hasLap = (pass: Pass, others: readonly Pass[], { field }: FoundDay): boolean =>
  field.fastestLapMs !== null && others.some((other) => other.session === pass.session && other.stand === pass.stand);

function numberWords(passes: readonly Pass[], said: SaidDay): readonly string[] {
  const counts = new Map<string, number>();
  for (const pass of passes) for (const text of numbersOf(pass, said)) counts.set(text, (counts.get(text) ?? 0) + 1);
  return [...counts]
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .slice(0, 2)
    .map(([text, count]) => `number ${text} read in ${count} of ${counted(passes.length, 'pass', 'passes')}`);
}

/** Times from one pass to the next at one place; those of more than one lap are left out. */
function lapWords(passes: readonly Pass[], { field }: FoundDay): readonly string[] {
  const fastest = field.fastestLapMs;
  if (fastest === null) return [];
  const byPlace = new Map<string, number[]>();
  for (const { session, stand, start } of passes) {
    const place = `${session} ${stand}`;
    byPlace.set(place, [...(byPlace.get(place) ?? []), start]);
  }
  const gaps = [...byPlace.values()].flatMap((starts) => {
    const inOrder = starts.sort((a, b) => a - b);
    return inOrder.slice(1).map((start, i) => start - inOrder[i]!);
  });
  const laps = gaps.filter((gap) => gap < MOST_OF_A_LAP * fastest);
  if (laps.length === 0) return [];
  const [least, most] = [lapText(Math.min(...laps)), lapText(Math.max(...laps))];
  return [
    `back at one spot after a lap ${laps.length === 1 ? 'once' : `${laps.length} times`}: ${least === most ? least : `${least} to ${most}`}`,
  ];
}

/** Slower than this is more than one lap; common practice, no source. */
const MOST_OF_A_LAP = 1.6;

/** `1:52`. */
function lapText(ms: number): string {
  const seconds = Math.round(ms / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

function groupWords(passes: readonly Pass[], found: FoundDay): readonly string[] {
  const groups = [...new Set(passes.flatMap((pass) => groupOf(pass, found) ?? []))].sort();
  if (groups.length === 0) return [];
  return [groups.length === 1 ? `only while ${groups[0]} was out` : `while ${groups.join(', ')} were out`];
}

function saidWords(own: readonly number[], { saidPasses }: SaidDay): readonly string[] {
  const count = own.filter((p) => saidPasses.has(p)).length;
  return count === 0 ? [] : [`a person spoke of ${counted(count, 'pass', 'passes')}`];
}
