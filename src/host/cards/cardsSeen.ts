/** What our cards in the day's frames propose, and which of it was answered already. Only a person's word makes it so. */
import type { Exposure } from '../../core/arrange/types.js';
import type { FrameId, PersonId } from '../../core/ids.js';
import {
  type ClockProposal,
  callRoll,
  type IsOneBike,
  type KnownCards,
  proposeClocks,
  proposeRiders,
  type RiderProposal,
  type RollCall,
  type RollCalled,
  type SeenCard,
} from '../../core/measure/cards/index.js';
import type { FrameMeasured, Subject } from '../../core/measure/types.js';
import { wallOfEpoch } from '../../core/numeric/wallTime.js';
import { type Milliseconds, millisecondsOf, type WallMs } from '../../core/units.js';
import type { DayState } from '../day/types.js';

type CardState = Pick<DayState, 'about' | 'arrangement' | 'log' | 'metadata' | 'pixels'>;

/** `right`: the clock stands by it already, as far as the card can tell. */
export type Answer = 'asked' | 'right' | 'taken' | 'not-taken';

export interface ClockByCard extends ClockProposal {
  /** Last frame it holds for, where the clock was set before the next card. */
  readonly toFrame?: FrameId;
  readonly is: Answer;
  /** What its frames stand by now. */
  readonly standsByMs: Milliseconds;
  /** What the card told, on a clock at the circuit. */
  readonly shownAt: WallMs;
  /** As the person counts bodies. */
  readonly number: number;
}

export interface RiderByCard extends RiderProposal {
  readonly person: PersonId;
  readonly is: Answer;
}

export interface Seen<Proposal> {
  readonly proposals: readonly Proposal[];
  /** Cards that say nothing that could be taken, and why. */
  readonly notes: readonly string[];
}

interface CardFrame {
  readonly exposure: Exposure;
  readonly measured: FrameMeasured;
  readonly cards: readonly SeenCard[];
}

function framesWithCards({ arrangement, pixels }: CardState): readonly CardFrame[] {
  return arrangement.exposures.flatMap((exposure) => {
    const measured = pixels.get(exposure.frameId);
    if (measured?.kind !== 'measured' || measured.cards === undefined) return [];
    return [{ exposure, measured, cards: measured.cards }];
  });
}

export function clocksByCards(state: CardState): Seen<ClockByCard> {
  const { zone } = state.about;
  const frames = framesWithCards(state).flatMap(({ exposure, cards }) => {
    const card = cards.find(({ kind }) => kind === 'clock-card');
    const { recorded, frameId, body, mainFile } = exposure;
    if (card?.kind !== 'clock-card' || typeof recorded !== 'number') return [];
    const { captured, exposure: settings } = state.metadata.get(mainFile) ?? {};
    const subSec = captured?.kind === 'recorded' ? captured.subSec : undefined;
    return [
      {
        frameId,
        body,
        recorded,
        card,
        standsByMs: exposure.wall === null ? 0 : exposure.wall - recorded,
        ...(subSec === undefined ? {} : { subSec }),
        ...(settings?.shutterS === undefined ? {} : { shutterS: settings.shutterS }),
      },
    ];
  });
  const byFrame = new Map(frames.map((frame) => [frame.frameId, frame]));
  const { proposals, notes } = proposeClocks(frames, (instant) => wallOfEpoch(instant, zone));
  return {
    notes,
    proposals: proposals.map((proposal, index) => {
      const first = byFrame.get(proposal.frames[0]!)!;
      const next = proposals.slice(index + 1).find(({ body }) => body === proposal.body);
      const toFrame = next?.fromFrame === undefined ? undefined : frameBefore(state, next.fromFrame);
      const isRight = Math.abs(proposal.offsetMs - first.standsByMs) <= proposal.errorMs;
      return {
        ...proposal,
        ...(toFrame === undefined ? {} : { toFrame }),
        is: answerTo(state, proposal.frames) ?? (isRight ? 'right' : 'asked'),
        standsByMs: millisecondsOf(first.standsByMs),
        shownAt: wallOfEpoch(first.card.shownAt, zone),
        number: first.card.body,
      };
    }),
  };
}

/** The frame of the same body taken just before. */
function frameBefore({ arrangement }: CardState, frame: FrameId): FrameId | undefined {
  const own = arrangement.exposures.find(({ frameId }) => frameId === frame);
  const before = arrangement.exposures.filter(
    ({ body, recorded }) =>
      body === own?.body &&
      typeof recorded === 'number' &&
      typeof own?.recorded === 'number' &&
      recorded < own.recorded,
  );
  return before.toSorted((a, b) => (a.recorded as number) - (b.recorded as number)).at(-1)?.frameId;
}

function answerTo({ log }: CardState, frames: readonly FrameId[]): 'taken' | 'not-taken' | null {
  for (const { decision } of log.inForce.toReversed())
    if (decision.kind === 'card-answered' && frames.includes(decision.frame)) return decision.is;
  return null;
}

/** Whom a card stands for where nobody's contact was taken down with it: they can be written down later under this id. */
export const personOfCard = (number: number): PersonId => `card-${number}` as PersonId;

export function ridersByCards(state: CardState, known: KnownCards): Seen<RiderByCard> {
  const frames = framesWithCards(state).flatMap(({ exposure, measured, cards }) =>
    cards.flatMap((card) =>
      card.kind === 'number-card'
        ? [{ frameId: exposure.frameId, file: exposure.mainFile, card, subjects: measured.subjects }]
        : [],
    ),
  );
  const { proposals, notes } = proposeRiders(frames, known);
  return {
    notes,
    proposals: proposals.map((proposal) => ({
      ...proposal,
      person: proposal.person ?? personOfCard(proposal.card),
      is: answerTo(state, [proposal.frameId]) ?? 'asked',
    })),
  };
}

/** The roll of one stretch. Whether two pictures show one bike is what the day's arrangement makes of them. */
export function rollCalled(state: CardState, roll: RollCall): RollCalled {
  const frames = state.arrangement.exposures.flatMap(({ frameId, wall }) => {
    const measured = state.pixels.get(frameId);
    return wall === null || measured?.kind !== 'measured' ? [] : [{ frameId, at: wall, subjects: measured.subjects }];
  });
  return callRoll(roll, frames, oneBikeBy(state));
}

function oneBikeBy({ arrangement, pixels }: CardState): IsOneBike {
  const unsure = new Set(arrangement.unsure ?? []);
  const riders = new Map<Subject, string>();
  for (const { index, bikes, rider } of arrangement.passes)
    for (const { frameId, subject } of unsure.has(index) ? [] : bikes) {
      const measured = pixels.get(frameId);
      const bike = measured?.kind === 'measured' ? measured.subjects[subject] : undefined;
      if (bike !== undefined) riders.set(bike, rider);
    }
  return (a, b) => {
    const [one, other] = [riders.get(a), riders.get(b)];
    if (one === undefined || other === undefined) return 'perhaps';
    return one === other ? 'yes' : 'no';
  };
}
