/** `tyrewall wish <meeting> here N3 Beacon`: what the plan shall keep to, in a terminal; the same words as on the Plan sheet. */
import type { Decision, FoldedLog } from '../core/log/types.js';
import { forbidding, pinning, type Wish, weighingGroup, weighingSpot } from '../core/plan/day/index.js';
import type { Sky } from '../core/plan/light/types.js';
import { slotsOfDay } from '../core/plan/timetable/index.js';
import type { Group, Spot, TimetableSlot } from '../core/plan/types.js';
import type { WallMs } from '../core/units.js';
import { inForceOf, spotsOf } from '../host/day/derive.js';
import { lastSaid } from '../host/plan/sheet/saidOfPlan.js';
import { wishText } from '../server/planning/planWords.js';
import { CliError } from './cliError.js';
import { decimalNumber, wholeNumber } from './numbers.js';
import { lookAt, type MeetingWish, sayDecisions } from './sayDecisions.js';
import { timeOn } from './timeOn.js';
import { onOneLine } from './words.js';

export interface WishCommandWish extends MeetingWish {
  /** `YYYY-MM-DD`; else the meeting's first day. */
  readonly day?: string;
}

const EXAMPLES = [
  'here N3 Beacon',
  'not-here N3 Beacon',
  'closed Beacon 13:00 14:00',
  'rest 12:30 13:00',
  'rain 15:00 16:00',
  'sky overcast 09:00 12:00',
  'weigh Beacon 2',
  'weigh Novice 0.5',
  'photographers 2',
  'vehicle yes',
  'drop 1',
] as const;
const SKIES: readonly Sky[] = ['clear', 'thin-cloud', 'overcast'];
const MOST_PHOTOGRAPHERS = 2;

type Wishes = Extract<Decision, { kind: 'wishes' }>;

/** What words may name, and what was wished before. */
export interface WishKnown {
  readonly day: string;
  readonly spots: readonly Spot[];
  readonly groups: readonly Group[];
  readonly slots: readonly TimetableSlot[];
  readonly before: Wishes;
}

export async function wishCommand(
  folder: string,
  words: readonly string[],
  { stateRoot, day }: WishCommandWish,
  say = console.log,
): Promise<void> {
  const known: MeetingWish = stateRoot === undefined ? {} : { stateRoot };
  const { about, log } = await lookAt(folder, known);
  const all = wishKnown(log, about.spots as readonly Spot[], day ?? about.firstDay);
  if (words.length === 0) return tell(all, say);
  const decision = wishOf(words, all);
  await sayDecisions(folder, known, [decision]);
  tell(decision.kind === 'wishes' ? { ...all, before: decision } : all, say);
  say('A plan taken before stands as it is: say tyrewall plan --anew for one that keeps to this.');
}

function wishKnown(log: FoldedLog, ofMeeting: readonly Spot[], day: string): WishKnown {
  const timetable = inForceOf(log)?.timetable;
  return {
    day,
    spots: spotsOf(log, ofMeeting),
    groups: timetable?.groups ?? [],
    slots: timetable === undefined ? [] : slotsOfDay(timetable, day),
    before: lastSaid(log, 'wishes') ?? { kind: 'wishes', wishes: [] },
  };
}

function tell({ before, groups, spots }: WishKnown, say: (line: string) => void): void {
  const { wishes, photographers, hasVehicle } = before;
  for (const [i, wish] of wishes.entries()) say(onOneLine(`${i + 1}  ${wishText(wish, groups, spots)}`));
  if (photographers !== undefined && photographers > 1) say(`${photographers} photographers share the day`);
  if (hasVehicle !== undefined)
    say(hasVehicle ? 'A van may be driven where the ways allow it' : 'All ways are on foot');
  if (wishes.length === 0 && photographers === undefined && hasVehicle === undefined) say('Nothing is wished yet.');
}

/** Words as typed → the decision; refuses with examples what it does not know. */
export function wishOf(words: readonly string[], known: WishKnown): Extract<Decision, { kind: 'wishes' | 'sky' }> {
  const { before, day } = known;
  const [kind, first, second, third] = words;
  const wishing = (wishes: readonly Wish[]): Wishes => ({ ...before, wishes });
  switch (kind) {
    case 'here': {
      const photographers = before.photographers ?? 1;
      const pin = { sessions: [sessionNamed(first, known)], spot: spotNamed(second, known).id, photographers };
      return wishing(pinning(before.wishes, pin));
    }
    case 'not-here':
      return wishing(forbidding(before.wishes, [sessionNamed(first, known)], spotNamed(second, known).id));
    case 'closed':
      return wishing([...before.wishes, { kind, spot: spotNamed(first, known).id, ...span(day, second, third) }]);
    case 'rest':
    case 'rain':
      return wishing([...before.wishes, { kind, ...span(day, first, second) }]);
    case 'sky':
      return { kind, is: skyNamed(first), ...span(day, second, third) };
    case 'weigh':
      return wishing(weighed(first, timesOf(second), known));
    case 'photographers':
      return { ...before, photographers: wholeOf(first, MOST_PHOTOGRAPHERS, 'how many photographers share the day') };
    case 'vehicle':
      return { ...before, hasVehicle: isYes(first) };
    case 'drop': {
      if (before.wishes.length === 0) throw new CliError('Expected a wish to drop, but nothing is wished yet.');
      const place = wholeOf(first, before.wishes.length, 'the number of a wish');
      return wishing(before.wishes.filter((_, i) => i !== place - 1));
    }
    default:
      throw new CliError(
        `Expected what is wished, as ${EXAMPLES.join('; ')}, but got “${onOneLine(words.join(' '))}”.`,
      );
  }
}

const isSame = (a: string, b: string | undefined): boolean => a.toLowerCase() === b?.toLowerCase();

function sessionNamed(text: string | undefined, { slots, day }: WishKnown): string {
  const slot = slots.find(({ name }) => isSame(name, text));
  if (slot !== undefined) return slot.name;
  const names = slots.length === 0 ? 'but the timetable has none' : `${slots.map(({ name }) => name).join(', ')}, but`;
  throw new CliError(`Expected a session of ${day}, ${names} got ${onOneLine(text ?? 'nothing')}.`);
}

const spotOf = (text: string | undefined, { spots }: WishKnown): Spot | undefined =>
  spots.find(({ id, number, name }) => [id, String(number), name].some((one) => isSame(one, text)));

function spotNamed(text: string | undefined, known: WishKnown): Spot {
  const spot = spotOf(text, known);
  if (spot !== undefined) return spot;
  const names = known.spots.map(({ number, name }) => `${number} ${name}`).join(', ');
  throw new CliError(
    `Expected a spot, ${names === '' ? 'but no circuit is said' : `${names},`} but got ${onOneLine(text ?? 'nothing')}.`,
  );
}

function weighed(text: string | undefined, times: number, known: WishKnown): readonly Wish[] {
  const group = known.groups.find(({ key, name }) => isSame(key, text) || isSame(name, text));
  const { wishes } = known.before;
  return group === undefined
    ? weighingSpot(wishes, spotNamed(text, known).id, times)
    : weighingGroup(wishes, group.key, times);
}

/** Weights the Plan sheet offers go from nothing to three times. */
const MOST_TIMES = 3;

function timesOf(text: string | undefined): number {
  const times = decimalNumber(text);
  if (times !== null && times >= 0 && times <= MOST_TIMES) return times;
  throw new CliError(`Expected how many times it counts, 0 to ${MOST_TIMES}, but got ${onOneLine(text ?? 'nothing')}.`);
}

function wholeOf(text: string | undefined, most: number, what: string): number {
  const value = wholeNumber(text, 1, most);
  if (value !== null) return value;
  throw new CliError(`Expected ${what}, 1 to ${most}, but got ${onOneLine(text ?? 'nothing')}.`);
}

function isYes(text: string | undefined): boolean {
  if (text === 'yes' || text === 'no') return text === 'yes';
  throw new CliError(`Expected vehicle yes or vehicle no, but got ${onOneLine(text ?? 'nothing')}.`);
}

function skyNamed(text: string | undefined): Sky {
  const sky = SKIES.find((one) => one === text);
  if (sky !== undefined) return sky;
  throw new CliError(`Expected the sky as one of ${SKIES.join(', ')}, but got ${onOneLine(text ?? 'nothing')}.`);
}

function span(day: string, from: string | undefined, to: string | undefined): { from: WallMs; to: WallMs } {
  const both = { from: timeOn(day, from), to: timeOn(day, to) };
  if (both.from < both.to) return both;
  throw new CliError(`Expected a time and a later one, but got ${onOneLine(`${from} and ${to}`)}.`);
}
