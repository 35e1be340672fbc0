/** What was tapped on a phone, held against the log: what is new, what was said already, what is taken back. */
import type { GestureId, RiderId } from '../../core/ids.js';
import type { Decision, UnknownDecision } from '../../core/log/types.js';
import { type KnownToTaps, readCode, type SaidByTap, whatTapsSay } from '../../core/plan/pocket/index.js';
import type { DayState } from '../day/types.js';
import { zlibSqueezer } from './squeezer.js';

export interface HeardTap extends SaidByTap {
  /** `taken-back`: here, since it was said; it stays so. */
  readonly is: 'new' | 'said' | 'taken-back';
}

export type HeardTaps =
  | { readonly kind: 'refused'; readonly sentence: string }
  | { readonly kind: 'heard'; readonly taps: readonly HeardTap[]; readonly notes: readonly string[] };

type HearState = Pick<DayState, 'about' | 'log'>;

/**
 * @param text the code off the phone's screen, or the file it saved
 * @param given checks of the days given along from here; null: none is known, and then none is missed
 */
export async function hearTaps(text: string, state: HearState, given: ReadonlySet<string> | null): Promise<HeardTaps> {
  const read = await readCode(text, zlibSqueezer);
  if (read.kind === 'refused') return { kind: 'refused', sentence: asTaps(read.sentence) };
  if (read.kind === 'day')
    return {
      kind: 'refused',
      sentence:
        'Expected what was tapped on a phone but this is a day for it. On the phone, open “Hand back” and show that code, or the file it saves.',
    };
  const strange = read.taps.taps.find(({ at }) => !isOfMeeting(state, at));
  if (strange !== undefined) return { kind: 'refused', sentence: ofAnother(state, strange.at) };
  const { said, notes } = whatTapsSay(read.taps, knownIn(state));
  const isStrange = given !== null && !given.has(read.taps.dayCheck);
  return {
    kind: 'heard',
    taps: said.flatMap((one) => heldAgainst(state, one)),
    notes: isStrange ? [NOT_GIVEN_HERE, ...notes] : notes,
  };
}

const NOT_GIVEN_HERE =
  'The day that the phone goes by was not given along from here. Look whether these taps are of this meeting before you take them.';

const asTaps = (sentence: string): string =>
  sentence
    .replace('a day for the pocket page', 'what was tapped on a phone')
    .replace('a day of version', 'taps of version')
    .replace('a whole day for the pocket page', 'all that was tapped on a phone')
    .replace(
      / Scan the code on the laptop again, or open the file it saved\.$/,
      ' Show the phone’s code again, or give the file it saves.',
    )
    .replace(
      / Open this page once where there is signal.*$/,
      ' The phone’s page is of another version than this desk: make both new.',
    );

const dateOf = (wall: number): string => new Date(wall).toISOString().slice(0, 10);

const isOfMeeting = ({ about }: HearState, at: number): boolean =>
  dateOf(at) >= about.firstDay && dateOf(at) <= about.lastDay;

const ofAnother = ({ about }: HearState, at: number): string =>
  `Expected taps of ${about.name}, ${about.firstDay === about.lastDay ? about.firstDay : `${about.firstDay} to ${about.lastDay}`}, but one is of ${dateOf(at)}. Nothing was taken; open the meeting they belong to, or look at the phone’s date.`;

const knownIn = (state: HearState): KnownToTaps => ({
  riderOf: (tag) => riderOf(state, tag),
  timetable: state.log.inForce.flatMap(({ line: { gesture }, decision }) =>
    decision.kind === 'timetable' || decision.kind === 'slip' ? [{ gesture, decision }] : [],
  ),
  slipSaid: (gesture) => {
    const said = state.log.lines.find((line) => line.gesture === gesture)?.decision;
    return said !== undefined && isSlip(said) ? said.slip : undefined;
  },
});

const isSlip = (said: Decision | UnknownDecision): said is Extract<Decision, { kind: 'slip' }> => said.kind === 'slip';

/** None where several minted ids end so. */
function riderOf({ log }: HearState, tag: string): RiderId | undefined {
  const ids = log.inForce.flatMap(({ decision }) => (decision.kind === 'rider-minted' ? [decision.rider] : []));
  const found = [...new Set(ids)].filter((id) => id.replaceAll('-', '').endsWith(tag));
  return found.length === 1 ? found[0] : undefined;
}

function heldAgainst({ log }: HearState, one: SaidByTap): readonly HeardTap[] {
  const isKnown = log.lines.some(({ gesture }) => gesture === one.gesture);
  const stands = (gesture: GestureId) => log.gestures.includes(gesture);
  if (one.decision.kind === 'withdraw') return !isKnown && stands(one.decision.gesture) ? [{ ...one, is: 'new' }] : [];
  return [{ ...one, is: !isKnown ? 'new' : stands(one.gesture) ? 'said' : 'taken-back' }];
}
