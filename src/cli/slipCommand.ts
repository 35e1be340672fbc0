/** `tyrewall slip <meeting> late N3 7`: what went otherwise than the timetable says, and what follows from it. */

import type { Decision } from '../core/log/types.js';
import { addGroup, heavyOf, lunchOf, slipOn, slotsOfDay, type TimetableInForce } from '../core/plan/timetable/index.js';
import type { Slip } from '../core/plan/timetable/types.js';
import { millisecondsOf, wallMsOf } from '../core/units.js';
import { inForceOf } from '../host/day/derive.js';
import { slipSentence } from '../server/views/said.js';
import { CliError } from './cliError.js';
import { decimalNumber } from './numbers.js';
import { lookAt, type MeetingWish, sayDecisions } from './sayDecisions.js';
import { refuseTwice, takeSlipBack } from './slipsSaid.js';
import { timeOn } from './timeOn.js';
import { onOneLine } from './words.js';

export interface SlipWish extends MeetingWish {
  /** `YYYY-MM-DD`; else the meeting's first day. */
  readonly day?: string;
  /** Although it does much, or was said a moment ago. */
  readonly yes?: boolean;
  readonly now?: () => number;
}

const EXAMPLES = [
  'late N3 7',
  'red 10:42',
  'red 10:42 10:55',
  'lunch 20',
  'drop F7',
  'group Guests 13:00',
  'undo',
] as const;
/** More are a slip of the keyboard, not to be passed over. */
const MOST_WORDS = 3;
const MINUTE_MS = 60_000;

export async function slipCommand(
  folder: string,
  words: readonly string[],
  wish: SlipWish,
  say = console.log,
): Promise<void> {
  const known: MeetingWish = wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot };
  const { about, log } = await lookAt(folder, known);
  if (words.length === 1 && words[0] === 'undo') return say(onOneLine(await takeSlipBack(folder, known, log)));
  const runs = inForceOf(log);
  if (runs === null)
    throw new CliError('Expected a timetable to slip from, but none is said. Say tyrewall timetable first.');
  const decision = slipOf(words, runs, wish.day ?? about.firstDay);
  if (wish.yes !== true) {
    if (decision.kind === 'slip') refuseTwice(log, decision.slip, (wish.now ?? Date.now)());
    refuseHeavy(runs, decision, say);
  }
  await sayDecisions(folder, known, [decision]);
  for (const sentence of followsOf(runs, decision)) say(onOneLine(sentence));
}

const followsOf = (runs: TimetableInForce, decision: SlipDecision): readonly string[] =>
  decision.kind === 'slip' ? slipOn(runs, decision.slip).sentences : ['The rounds that are left share their time.'];

/** What it would do is shown, and nothing done: 700 typed for 7 takes the afternoon away. */
function refuseHeavy(runs: TimetableInForce, decision: SlipDecision, say: (line: string) => void): void {
  const heavy = decision.kind === 'slip' ? heavyOf(runs, decision.slip) : [];
  if (heavy.length === 0) return;
  for (const sentence of followsOf(runs, decision)) say(onOneLine(sentence));
  throw new CliError(`Nothing is said yet, for it ${heavy.join(' and ')}. If that is so, say it again with --yes.`);
}

type SlipDecision = Extract<Decision, { kind: 'slip' | 'timetable' }>;

/** Words as typed → the decision; refuses with an example what it does not know. */
export function slipOf(words: readonly string[], inForce: TimetableInForce, day: string): SlipDecision {
  const [kind, first, second] = words.length <= MOST_WORDS ? words : [];
  const runs = inForce.timetable;
  const slots = slotsOfDay(runs, day);
  const asSlip = (slip: Slip): SlipDecision => ({ kind: 'slip', slip });
  switch (kind) {
    case 'late':
      return asSlip({ kind, slot: named(first, slots, inForce, day), on: day, byMs: minutes(second) });
    case 'drop':
      return asSlip({ kind: 'dropped', slot: named(first, slots, inForce, day), on: day });
    case 'red':
      return asSlip({
        kind: 'red-flag',
        at: timeOn(day, first),
        ...(second === undefined ? {} : { resumesAt: timeOn(day, second) }),
      });
    case 'lunch': {
      const gap = lunchOf(slots, runs.pauses ?? []);
      if (!gap) throw new CliError(`Expected a lunch on ${day} but the timetable has none there.`);
      return asSlip({ kind: 'lunch-shorter', at: gap.start, byMs: minutes(first) });
    }
    case 'group': {
      const name = first ?? '';
      const key = name.charAt(0).toUpperCase();
      if (key === '' || runs.groups.some((group) => group.key === key))
        throw new CliError(
          `Expected the name of a new group whose first letter is free, but got “${onOneLine(name)}”; ${runs.groups.map((group) => group.key).join(', ')} are taken.`,
        );
      const from = second === undefined ? wallMsOf(Date.parse(`${day}T00:00:00Z`)) : timeOn(day, second);
      const added = addGroup(inForce, { key, name }, day, from);
      if (added === null)
        throw new CliError(
          `Expected a round left on ${day} from ${second ?? '00:00'} on but there is none.${droppedWords(inForce, day)}`,
        );
      return added.kind === 'slip' ? asSlip(added.slip) : added;
    }
    default:
      throw new CliError(
        `Expected what went otherwise, as ${EXAMPLES.join('; ')}, but got “${onOneLine(words.join(' '))}”.`,
      );
  }
}

function named(
  name: string | undefined,
  slots: readonly { readonly name: string }[],
  inForce: TimetableInForce,
  day: string,
): string {
  const slot = slots.find((one) => one.name.toLowerCase() === name?.toLowerCase());
  if (slot) return slot.name;
  throw new CliError(
    `Expected a session of that day, ${slots.map((one) => one.name).join(', ')}, but got ${onOneLine(name ?? 'nothing')}.${droppedWords(inForce, day)}`,
  );
}

/** Which slip took which sessions away; empty where none did. */
function droppedWords({ effects }: TimetableInForce, day: string): string {
  return effects
    .flatMap(({ slip, changes }) => {
      const gone = changes.filter((change) => change.kind === 'dropped' && change.day === day);
      if (gone.length === 0) return [];
      return [` “${slipSentence(slip)}” dropped ${gone.map((change) => change.slot).join(', ')}.`];
    })
    .concat(effects.some(({ changes }) => changes.some(({ kind }) => kind === 'dropped')) ? [UNDO] : [])
    .join('');
}

const UNDO = ' tyrewall slip <meeting> undo takes the last slip back.';

function minutes(text: string | undefined) {
  const value = decimalNumber(text);
  if (value !== null && value !== 0) return millisecondsOf(Math.round(value * MINUTE_MS));
  throw new CliError(
    `Expected by how many minutes, as 7, or -7 for the other way, but got ${onOneLine(text ?? 'nothing')}.`,
  );
}
