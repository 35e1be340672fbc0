/** What cards in pictures propose, as questions: a body's clock, and whose bike it is that a number card is held against. */
import type { BodyKey } from '../../core/ids.js';
import { wallMsOf } from '../../core/units.js';
import {
  type ClockByCard,
  clocksByCards,
  type MeetingCards,
  type RiderByCard,
  ridersByCards,
} from '../../host/cards/index.js';
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

function riderLine(known: Known, rider: RiderByCard, holder: string | null): readonly QuestionLine[] {
  const { card, frameId, person, point } = rider;
  const measured = known.state.pixels.get(frameId);
  const subjects = measured?.kind === 'measured' ? measured.subjects : [];
  const bikes = subjects.flatMap(({ what }, subject) => {
    const shown = what === 'motorcycle' ? pointOf(known, { frameId, subject }) : null;
    return shown === null ? [] : [{ picture: pictureOf(known, { frameId, subject }), point: shown, subject }];
  });
  const distance = ({ x, y }: { readonly x: number; readonly y: number }) => Math.hypot(x - point.x, y - point.y);
  const nearestFirst = bikes.toSorted((a, b) => distance(a.point) - distance(b.point));
  const [first] = nearestFirst;
  if (first === undefined) return [];
  const found = known.state.arrangement.riders.find((one) =>
    one.passes.some((index) =>
      known.state.arrangement.passes[index]!.bikes.some(
        (bike) => bikeKey(bike.frameId, bike.subject) === bikeKey(frameId, first.subject),
      ),
    ),
  );
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
