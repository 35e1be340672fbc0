/** What ties a rider's passes to each other, in words. No clue is named that this very rider does not give. */
import type { FoundDay } from './foundDay.js';
import type { SaidDay } from './saidDay.js';

type Pass = SaidDay['passes'][number];

/** Of any pass and its rider's others: looks always, the rest as far as there is something to hold it against. */
export function cluesWithin(own: readonly number[], found: FoundDay, said: SaidDay): (p: number) => readonly string[] {
  const passes = own.map((p) => said.passes[p]!);
  const members = new Set(own);
  const atPlace = counts(passes.map(placeOf));
  const reading = counts(passes.flatMap((pass) => numbersOf(pass, said)));
  const outWith = new Map<string, Set<number>>();
  for (const pass of passes) {
    const group = groupOf(pass, found);
    if (group === null) continue;
    const sessions = outWith.get(group);
    if (sessions === undefined) outWith.set(group, new Set([pass.session]));
    else sessions.add(pass.session);
  }
  return (p) => {
    const pass = said.passes[p]!;
    const itself = members.has(p) ? 1 : 0;
    const hasLap = found.field.fastestLapMs !== null && (atPlace.get(placeOf(pass)) ?? 0) > itself;
    const group = groupOf(pass, found);
    const sessions = group === null ? [] : [...(outWith.get(group) ?? [])];
    const hasGroup = sessions.some((session) => session !== pass.session);
    const hasNumber = numbersOf(pass, said).some((text) => (reading.get(text) ?? 0) > itself);
    return ['looks', ...(hasLap ? ['laps'] : []), ...(hasGroup ? ['group'] : []), ...(hasNumber ? ['number'] : [])];
  };
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

function numbersOf({ bikes }: Pass, said: SaidDay): readonly string[] {
  const read = bikes.flatMap((i) => said.bikes.subjects[i]!.numbers ?? []);
  return read.length === 0 ? [] : [...new Set(read.flatMap(({ isWhole, text }) => (isWhole ? [text] : [])))];
}

const placeOf = ({ session, stand }: Pass): string => `${session} ${stand}`;

function counts(texts: readonly string[]): ReadonlyMap<string, number> {
  const times = new Map<string, number>();
  for (const text of texts) times.set(text, (times.get(text) ?? 0) + 1);
  return times;
}

function numberWords(passes: readonly Pass[], said: SaidDay): readonly string[] {
  return [...counts(passes.flatMap((pass) => numbersOf(pass, said)))]
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .slice(0, 2)
    .map(([text, count]) => `number ${text} read in ${count} of ${counted(passes.length, 'pass', 'passes')}`);
}

/** Times from one pass to the next at one place; those of more than one lap are left out. */
function lapWords(passes: readonly Pass[], { field }: FoundDay): readonly string[] {
  const fastest = field.fastestLapMs;
  if (fastest === null) return [];
  const byPlace = new Map<string, number[]>();
  for (const pass of passes) {
    const starts = byPlace.get(placeOf(pass));
    if (starts === undefined) byPlace.set(placeOf(pass), [pass.start]);
    else starts.push(pass.start);
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
