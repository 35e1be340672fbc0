/** What was tapped on a phone, in a person's words, with what would follow from it. */
import { slipOn, type TimetableInForce, timetableInForce } from '../../core/plan/timetable/index.js';
import type { Slip } from '../../core/plan/timetable/types.js';
import { inForceOf } from '../../host/day/derive.js';
import type { DayState } from '../../host/day/types.js';
import type { HeardTap, HeardTaps } from '../../host/pocket/index.js';
import type { TapsView, TapView } from '../pocketTypes.js';
import { type Known, knownOf } from './known.js';
import { gestureWords, slipSentence } from './said.js';
import { clockOf } from './wallTime.js';

export function tapsView(state: DayState, heard: Extract<HeardTaps, { kind: 'heard' }>): TapsView {
  const known = knownOf(state);
  let runs = runsOf(state);
  const taps = heard.taps.map((tap): TapView => {
    const { decision, gesture, is } = tap;
    const follows = decision.kind === 'slip' && is === 'new' ? followsOf(runs, decision.slip) : [];
    if (decision.kind === 'slip' && is === 'new' && runs !== null) runs = withSlip(runs, decision.slip);
    return { gesture, is, text: tapWords(known, tap), follows };
  });
  return { asOf: state.asOf, taps, notes: heard.notes };
}

const runsOf = ({ log, timetable }: DayState): TimetableInForce | null =>
  inForceOf(log) ?? (timetable === null ? null : timetableInForce([{ kind: 'timetable', timetable }]));

const NO_TIMETABLE = ['No timetable is said, so nothing moves yet.'];

const followsOf = (runs: TimetableInForce | null, slip: Slip): readonly string[] =>
  runs === null ? NO_TIMETABLE : slipOn(runs, slip).sentences;

const withSlip = (runs: TimetableInForce, slip: Slip): TimetableInForce | null =>
  timetableInForce([
    { kind: 'timetable', timetable: runs.said },
    ...[...runs.effects.map((effect) => effect.slip), slip].map((one) => ({ kind: 'slip' as const, slip: one })),
  ]);

function tapWords(known: Known, { decision }: HeardTap): string {
  switch (decision.kind) {
    case 'slip':
      return slipSentence(decision.slip);
    case 'got':
      return `Got ${riderWords(known, decision)} at ${clockOf(decision.at)}${spotWords(known, decision.spot)}`;
    case 'withdraw':
      return `Taken back on the phone: ${gestureWords(known.state, decision.gesture)}`;
  }
}

type Got = Extract<HeardTap['decision'], { kind: 'got' }>;

function riderWords({ state }: Known, { rider: id, number }: Got): string {
  const rider = state.arrangement.riders.find((one) => id !== undefined && (one.id === id || one.aliases.includes(id)));
  if (rider !== undefined) return `${rider.livery}, ${rider.code}`;
  return number === undefined ? 'a rider who is in nobody’s set now' : `number ${number}`;
}

const spotWords = ({ spotById }: Known, spot: Got['spot']): string =>
  spot === undefined ? '' : ` from ${spotById.get(spot)?.name ?? spot}`;
