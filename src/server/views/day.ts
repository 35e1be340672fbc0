/** The first screen: how things stand, cards, groups. Small enough to be sent whole. */
import type { Exposure } from '../../core/arrange/types.js';
import type { SpotId } from '../../core/ids.js';
import type { WallMs } from '../../core/units.js';
import type { MeetingCards } from '../../host/cards/index.js';
import { leftOutSentences } from '../../host/day/leftOut.js';
import type { Day } from '../../host/day/types.js';
import type { AboutView, DayView } from '../types.js';
import { cardViews, urgentLines } from './cards.js';
import { dayLineOf } from './dayLine.js';
import { groupViews } from './groups.js';
import { headlineOf, leadOf, unsureRidersOf } from './headline.js';
import { type Known, knownOf } from './known.js';
import { questionLines } from './questions.js';
import { printed } from './spoken.js';

export const aboutOf = ({ state: { about }, spots }: Known): AboutView => ({
  name: about.name,
  circuit: about.circuit ?? null,
  firstDay: about.firstDay,
  lastDay: about.lastDay,
  zone: about.zone,
  spots: spots.map(({ id, number, name }) => ({ id: id as SpotId, number, name })),
});

const MOST_QUESTIONS_HERE = 5;

const keepersOf = (known: Known): number =>
  [...known.state.keepers.byRider.values()].reduce((sum, keepers) => sum + keepers.length, 0);

const countsOf = (known: Known, questions: number): DayView['counts'] => {
  const { arrangement, coverage, log } = known.state;
  const countOf = (role: Exposure['role']) => arrangement.exposures.filter((exposure) => exposure.role === role).length;
  const unmeasurable = countOf('unmeasurable');
  return {
    frames: arrangement.exposures.length,
    measured: arrangement.exposures.length - countOf('unmeasured') - unmeasurable,
    unmeasurable,
    riders: arrangement.riders.length,
    thin: coverage.thin.length,
    sessions: arrangement.sessions.length,
    questions,
    keepers: keepersOf(known),
    decisions: log.gestures.length,
  };
};

/** The parts that follow from the state alone; the rest depends on the clock and on the cards. */
const fromState = (known: Known, cards: MeetingCards | null) => {
  const questions = questionLines(known, cards);
  return {
    about: aboutOf(known),
    groupKeys: known.groups,
    groups: groupViews(known),
    leftOut: leftOutSentences(known.state),
    counts: countsOf(known, questions.length),
    neverSeen: known.state.coverage.neverSeen?.map(({ number, words }) => ({ number: number ?? null, words })) ?? null,
    questions: questions.slice(0, MOST_QUESTIONS_HERE).map(({ id, sentence, worth }) => ({ id, sentence, worth })),
  };
};

const built = new WeakMap<Known, { cards: MeetingCards | null; parts: ReturnType<typeof fromState> }>();
const fromStateOnce = (known: Known, cards: MeetingCards | null): ReturnType<typeof fromState> => {
  const before = built.get(known);
  if (before?.cards === cards) return before.parts;
  const parts = fromState(known, cards);
  built.set(known, { cards, parts });
  return parts;
};

export function dayView(
  day: Day,
  now: WallMs,
  date?: string,
  heardAt: (sentence: string) => WallMs | null = () => null,
  numberCards: MeetingCards | null = null,
): DayView {
  const known = knownOf(day.state());
  const { state } = known;
  const cards = cardViews(day);
  const unsure = unsureRidersOf(known);
  return {
    asOf: state.asOf,
    now,
    ...fromStateOnce(known, numberCards),
    line: dayLineOf(known, now, date),
    headline: headlineOf(known, now),
    lead: [printed(leadOf(known, now)), ...(unsure ? [unsure] : [])].filter((spoken) => spoken.text !== ''),
    urgent: urgentLines(cards),
    cards,
    thinBelowGoodFrames: state.coverage.rules.thinBelowGoodFrames,
    measuring: state.toMeasure,
    has: {
      timetable: state.timetable !== null,
      spots: known.spots.length > 0,
      stands: state.log.inForce.some(({ decision }) => decision.kind === 'stood-at'),
    },
    notices: day.notices().map((sentence) => ({ sentence, at: heardAt(sentence) })),
    arrangedInMs: state.arrangedInMs,
  };
}
