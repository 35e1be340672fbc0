/** What cards in pictures propose, as questions: a body's clock, and whose bike it is that a number card is held against. */
import type { Rider } from '../../core/arrange/types.js';
import type { BodyKey } from '../../core/ids.js';
import { wallMsOf } from '../../core/units.js';
import {
  type ClockByCard,
  clocksByCards,
  type MeetingCards,
  type RiderByCard,
  ridersByCards,
} from '../../host/cards/index.js';
import type { RiderView } from '../types.js';
import { bikeKey, type Known, pointOf } from './known.js';
import type { QuestionLine } from './passQuestions.js';
import { bodyWords } from './questionWords.js';
import { pictureOf } from './riderLine.js';
import { clockOf, clockWithSecondsOf, spanWords } from './wallTime.js';
import { capital } from './words.js';

export interface CardLines {
  readonly lines: readonly QuestionLine[];
  /** Whose clock a card asks about. */
  readonly bodies: ReadonlySet<BodyKey>;
}

/** Seconds for a yes or no, and what a clock is worth beside its frames, as the core prices its own questions. */
const YES_NO_S = 2;
const CLOCK_WORTH = 12;

/** @param cards null: no card of this meeting was ever made */
export function cardLines(known: Known, cards: MeetingCards | null): CardLines {
  const clocks = clocksByCards(known.state).proposals.filter(({ is }) => is === 'asked');
  const riders = cards === null ? [] : ridersByCards(known.state, cards).proposals.filter(({ is }) => is === 'asked');
  return {
    lines: [
      ...clocks.map((clock) => clockLine(known, clock)),
      ...riders.flatMap((rider) => riderLine(known, rider, cards?.nameOf(rider.card) ?? null)),
    ],
    bodies: new Set(clocks.map(({ body }) => body)),
  };
}

/** Number cards of which nobody said yet whether they go with this rider's bike. */
export function cardsAgainst(known: Known, rider: Rider, cards: MeetingCards | null): RiderView['cards'] {
  if (cards === null) return [];
  return ridersByCards(known.state, cards).proposals.flatMap((one) => {
    const bikes = one.is === 'asked' ? bikesNear(known, one) : [];
    const [first] = bikes;
    if (first === undefined || riderOf(known, one, first.subject)?.key !== rider.key) return [];
    const { card, person, frameId: frame } = one;
    return [{ card, holder: cards.nameOf(card), person, frame, picture: first.picture, point: first.point }];
  });
}

function clockLine(known: Known, clock: ClockByCard): QuestionLine {
  const { body, offsetMs, errorMs, fromFrame, toFrame, frames, standsByMs, shownAt, number } = clock;
  const own = known.state.arrangement.exposures.filter((one) => one.body === body && typeof one.recorded === 'number');
  const recorded = known.exposureById.get(frames[0]!)?.recorded;
  const head = {
    id: `clock-card ${frames[0]} ${offsetMs}`,
    sentence: sentenceOf(clock),
    worth: (CLOCK_WORTH + own.length) / YES_NO_S,
  };
  return {
    ...head,
    view: () => ({
      kind: 'clock',
      ...head,
      body,
      ...(fromFrame === undefined ? {} : { fromFrame }),
      ...(toFrame === undefined ? {} : { toFrame }),
      offsetMs,
      standsByMs,
      reasons: [
        `The clock card for body ${number} told ${clockWithSecondsOf(shownAt)}; the camera’s clock is known by it to ${(errorMs / 1000).toFixed(1)} s.`,
        ...(frames.length > 1 ? [`${frames.length} pictures of clock cards agree.`] : []),
      ],
      frames: own.length,
      example:
        typeof recorded === 'number'
          ? { recorded, stands: wallMsOf(recorded + standsByMs), corrected: wallMsOf(recorded + offsetMs) }
          : null,
      card: frames[0]!,
    }),
  };
}

function sentenceOf({ body, offsetMs, shownAt, fromFrame }: ClockByCard): string {
  const is = Math.abs(offsetMs) < 500 ? 'right' : `${offsetMs < 0 ? 'fast' : 'slow'} by ${spanWords(offsetMs)}`;
  return `Was ${bodyWords(body)} ${is}${fromFrame === undefined ? '' : ' from then on'}, as the clock card of ${clockOf(shownAt)} says?`;
}

/** Bikes in the picture of a card, the one it is held against first. */
function bikesNear(known: Known, { frameId, point }: RiderByCard) {
  const measured = known.state.pixels.get(frameId);
  const subjects = measured?.kind === 'measured' ? measured.subjects : [];
  const bikes = subjects.flatMap(({ what }, subject) => {
    const shown = what === 'motorcycle' ? pointOf(known, { frameId, subject }) : null;
    return shown === null ? [] : [{ picture: pictureOf(known, { frameId, subject }), point: shown, subject }];
  });
  const distance = ({ x, y }: { readonly x: number; readonly y: number }) => Math.hypot(x - point.x, y - point.y);
  return bikes.toSorted((a, b) => distance(a.point) - distance(b.point));
}

function riderOf({ state: { arrangement } }: Known, { frameId }: RiderByCard, subject: number): Rider | undefined {
  const bike = bikeKey(frameId, subject);
  return arrangement.riders.find((rider) =>
    rider.passes.some((index) =>
      arrangement.passes[index]!.bikes.some((one) => bikeKey(one.frameId, one.subject) === bike),
    ),
  );
}

function riderLine(known: Known, rider: RiderByCard, holder: string | null): readonly QuestionLine[] {
  const { card, frameId, person } = rider;
  const nearestFirst = bikesNear(known, rider);
  const [first] = nearestFirst;
  if (first === undefined) return [];
  const found = riderOf(known, rider, first.subject);
  const frames = found === undefined ? 1 : (known.coverageByKey.get(found.key)?.frames ?? 1);
  const head = {
    id: `number-card ${frameId} ${card}`,
    sentence: `Is this the bike of card ${card}${holder === null ? '' : `, ${capital(holder)}`}?`,
    worth: frames / YES_NO_S,
  };
  const shown = nearestFirst.map(({ picture, point: at }) => ({ picture, point: at }));
  return [
    { ...head, view: () => ({ kind: 'number-card', ...head, card, holder, person, frame: frameId, bikes: shown }) },
  ];
}
