/** Questions as screens show them, in the order in which the core asks. */

import type { BikeRef, Question, Rider } from '../../core/arrange/types.js';
import { type Screen, screensOf } from '../../core/ask/index.js';
import type { BodyKey, RiderKey } from '../../core/ids.js';
import { inWords } from '../../core/smallNumbers.js';
import { millisecondsOf, unitIntervalOf, type WallMs, wallMsOf } from '../../core/units.js';
import type { MeetingCards } from '../../host/cards/index.js';
import type { DayState } from '../../host/day/types.js';
import type { PictureView, QuestionsView, QuestionView } from '../types.js';
import { cardLines } from './cardQuestions.js';
import { contradictionView } from './contradiction.js';
import { type Known, knownOf, passesOf, pointOf } from './known.js';
import { oddOneOutLine, type QuestionLine, whosePassLine } from './passQuestions.js';
import { questionSentence } from './questionWords.js';
import { pictureOf, riderLineOf } from './riderLine.js';
import { saidViews } from './said.js';
import { capital, counted } from './words.js';

type SameRider = Extract<Question, { kind: 'same-rider' }>;

const wallOf = (known: Known, bike: BikeRef): WallMs | null => known.exposureById.get(bike.frameId)?.wall ?? null;

type LineUp = Extract<Screen, { kind: 'line-up' }>;
type Plain = Extract<Screen, { kind: 'plain' }>;

function lineUp(known: Known, { id, worth, of }: LineUp, pairs: readonly SameRider[]): QuestionView | null {
  const rider = known.riderByKey.get(of);
  const own = pairs[0] ? pairs[0].faces[pairs[0].a === of ? 0 : 1] : undefined;
  const ofPoint = own ? pointOf(known, own) : null;
  if (!rider || !ofPoint) return null;
  const likeliestFirst = [...pairs].sort((one, other) => other.confidence - one.confidence);
  const shown = likeliestFirst.flatMap((pair) => {
    const isFirst = pair.a === of;
    const other = known.riderByKey.get(isFirst ? pair.b : pair.a);
    const face = pair.faces[isFirst ? 1 : 0];
    const point = pointOf(known, face);
    return other && point
      ? [
          {
            rider: { ...riderLineOf(known, other), face: pictureOf(known, face) },
            point,
            wall: wallOf(known, face),
            confidence: unitIntervalOf(pair.confidence),
            reasons: pair.reasons,
          },
        ]
      : [];
  });
  const ofWalls = passesOf(known, rider).map((pass) => pass.start);
  const stretch = stretchOf(shown.flatMap((one) => one.wall ?? []));
  return {
    kind: 'line-up',
    id,
    sentence: `Which of these ${inWords(shown.length)} is ${rider.livery}, ${rider.code}?`,
    worth,
    of: riderLineOf(known, rider),
    ofPoint,
    shown,
    stretch,
    ofWalls: stretch ? ofWalls.filter((wall) => wall >= stretch.from && wall <= stretch.to) : [],
  };
}

/** From a lap before the first candidate to a lap after the last: laps that fit can then be seen. */
const AROUND_MS = 150_000;
const stretchOf = (walls: readonly WallMs[]): { from: WallMs; to: WallMs } | null =>
  walls.length < 2
    ? null
    : { from: wallMsOf(Math.min(...walls) - AROUND_MS), to: wallMsOf(Math.max(...walls) + AROUND_MS) };

const whereOf = (known: Known, rider: Rider): string => {
  const sessions = [
    ...new Set(passesOf(known, rider).map((pass) => known.state.arrangement.sessions[pass.session]?.name)),
  ];
  return `${counted(rider.passes.length, 'pass', 'passes')} in ${sessions.slice(0, 4).join(', ')}${sessions.length > 4 ? ' and later' : ''}`;
};

/** What joining does to the one who has less: the consequence that a person decides by. */
function consequences(known: Known, riders: readonly [Rider, Rider]): { join: string; apart: string } {
  const frames = (rider: Rider) => known.coverageByKey.get(rider.key)?.goodFrames ?? 0;
  const [less, more] = frames(riders[0]) <= frames(riders[1]) ? riders : [riders[1], riders[0]];
  const together = frames(less) + frames(more);
  const isThin = (rider: Rider) => known.coverageByKey.get(rider.key)?.isThin ?? false;
  const endsThin = isThin(less) && together >= known.state.coverage.rules.thinBelowGoodFrames;
  return {
    join: `One rider with ${counted(together, 'good frame')}${endsThin ? `; ${less.code} is thin no more` : ''}.`,
    apart: `${capital(less.livery)}, ${less.code}, stays a rider alone${isThin(less) ? ', and thin' : ''}.`,
  };
}

function pair(known: Known, question: SameRider, worth: number): QuestionView | null {
  const riders = [known.riderByKey.get(question.a), known.riderByKey.get(question.b)] as const;
  const points = question.faces.map((face) => pointOf(known, face));
  const [a, b] = riders;
  const [pointA, pointB] = points;
  if (!a || !b || !pointA || !pointB) return null;
  const side = (rider: Rider, face: BikeRef, point: NonNullable<typeof pointA>) => ({
    rider: riderLineOf(known, rider),
    picture: pictureOf(known, face),
    point,
    where: whereOf(known, rider),
  });
  return {
    kind: 'pair',
    id: question.id,
    sentence: questionSentence(known, question),
    worth,
    confidence: unitIntervalOf(question.confidence),
    reasons: question.reasons,
    sides: [side(a, question.faces[0], pointA), side(b, question.faces[1], pointB)],
    ...consequences(known, [a, b]),
  };
}

function clock(known: Known, question: Extract<Question, { kind: 'body-clock' }>, worth: number): QuestionView {
  const frames = known.state.arrangement.exposures.filter(
    (exposure) => exposure.body === question.body && exposure.wall !== null,
  );
  const { fromFrame, toFrame, offsetMs } = question;
  const end = fromFrame ?? toFrame;
  const shown = (end === undefined ? undefined : known.exposureById.get(end)) ?? frames[Math.floor(frames.length / 2)];
  const recorded = typeof shown?.recorded === 'number' ? shown.recorded : null;
  const stands = recorded === null ? null : (shown?.wall ?? null);
  return {
    kind: 'clock',
    id: question.id,
    sentence: questionSentence(known, question),
    worth,
    body: question.body,
    ...(fromFrame === undefined ? {} : { fromFrame }),
    ...(toFrame === undefined ? {} : { toFrame }),
    offsetMs,
    standsByMs: millisecondsOf(recorded === null || stands === null ? 0 : stands - recorded),
    reasons: question.reasons,
    frames: question.frames ?? frames.length,
    example:
      recorded === null || stands === null ? null : { recorded, stands, corrected: wallMsOf(recorded + offsetMs) },
  };
}

function border(known: Known, question: Extract<Question, { kind: 'boundary' }>, worth: number): QuestionView {
  const { exposures } = known.state.arrangement;
  const isBike = (exposure: (typeof exposures)[number]) => exposure.role === 'bike' && exposure.wall !== null;
  const before = exposures.findLast((exposure) => isBike(exposure) && (exposure.wall as WallMs) < question.at);
  const after = exposures.find((exposure) => isBike(exposure) && (exposure.wall as WallMs) >= question.at);
  const shown = (exposure: typeof before): PictureView | null =>
    exposure ? { ...pictureOf(known, { frameId: exposure.frameId, subject: -1 }), box: null } : null;
  return {
    kind: 'border',
    id: question.id,
    sentence: questionSentence(known, question),
    worth,
    at: question.at,
    reasons: question.reasons,
    before: shown(before),
    after: shown(after),
  };
}

/** Pictures of a question about a pass cost a search through all riders; the first screen needs its sentence alone. */
export function questionLines(known: Known, cards: MeetingCards | null): readonly QuestionLine[] {
  const { arrangement, pixels, log } = known.state;
  const lineUpView = lineUpViews(known);
  const byCards = cardLines(known, cards);
  const lines = screensOf({ arrangement, pixels, log })
    .filter((screen) => !isToldByCard(screen, byCards.bodies))
    .flatMap((screen) => linesOf(known, screen, lineUpView));
  return [...byCards.lines, ...lines].sort((a, b) => b.worth - a.worth);
}

/** What a card tells is not guessed at as well. */
const isToldByCard = (screen: Screen, bodies: ReadonlySet<BodyKey>): boolean =>
  screen.kind === 'plain' && screen.question.kind === 'body-clock' && bodies.has(screen.question.body);

/** How many questions stand at the desk: what the desk and a terminal both say. */
export const countOfQuestions = (state: DayState, cards: MeetingCards | null): number =>
  questionLines(knownOf(state), cards).length;

/** None where what it is about is no longer there. */
function linesOf(
  known: Known,
  screen: Screen,
  lineUpView: (screen: LineUp) => QuestionView | null,
): readonly QuestionLine[] {
  switch (screen.kind) {
    case 'plain':
      return lineOf(plainView(known, screen.question, screen.worth));
    case 'line-up':
      return lineOf(lineUpView(screen));
    case 'whose-pass':
      return whosePassLine(known, screen);
    case 'odd-one-out':
      return oddOneOutLine(known, screen);
  }
}

const lineOf = (view: QuestionView | null): readonly QuestionLine[] =>
  view === null ? [] : [{ id: view.id, sentence: view.sentence, worth: view.worth, view: () => view }];

/** With one candidate it is a pair, which is answered with one letter. */
function lineUpViews(known: Known): (screen: LineUp) => QuestionView | null {
  const pairKey = (a: RiderKey, b: RiderKey): string => [a, b].sort().join(' ');
  const asked = new Map(
    known.state.arrangement.questions.flatMap((question) =>
      question.kind === 'same-rider' ? [[pairKey(question.a, question.b), question] as const] : [],
    ),
  );
  return (screen) => {
    const pairs = screen.shown.flatMap(({ rider }) => asked.get(pairKey(screen.of, rider)) ?? []);
    const [only] = pairs;
    return pairs.length === 1 && only ? pair(known, only, screen.worth) : lineUp(known, screen, pairs);
  };
}

/** More than anybody answers before the list is made anew: pictures and candidates of each are worked out. */
const MOST_QUESTIONS = 40;

function plainView(known: Known, question: Plain['question'], worth: number): QuestionView {
  switch (question.kind) {
    case 'body-clock':
      return clock(known, question, worth);
    case 'boundary':
      return border(known, question, worth);
    case 'contradiction':
      return contradictionView(known, question, worth);
  }
}

export function questionsView(state: DayState, cards: MeetingCards | null): QuestionsView {
  const known = knownOf(state);
  const lines = questionLines(known, cards);
  const questions = lines.slice(0, MOST_QUESTIONS).flatMap((line) => line.view() ?? []);
  const more = Math.max(0, lines.length - MOST_QUESTIONS);
  return { asOf: state.asOf, questions, more, said: saidViews(known) };
}
