/** From photographed number cards to who rides the bike beside them: proposals, for a person to take. */
import type { FileId, FrameId, PersonId } from '../../ids.js';
import type { BikePoint } from '../../log/types.js';
import type { Box, Subject } from '../types.js';
import type { NumberCard } from './numberCard.js';
import type { SeenAt } from './types.js';

export interface NumberCardFrame {
  readonly frameId: FrameId;
  readonly file: FileId;
  readonly card: NumberCard & { readonly at: SeenAt };
  readonly subjects: readonly Subject[];
}

/** What the meeting knows of its cards. */
export interface KnownCards {
  /** The token that the meeting's secret gives a number. */
  readonly tokenOf: (number: number) => string;
  /** Who was handed the card, where a contact was taken down. */
  readonly personOf: (number: number) => PersonId | undefined;
}

export interface RiderProposal {
  readonly kind: 'rider-is';
  readonly point: BikePoint;
  readonly card: number;
  readonly person?: PersonId;
  readonly frameId: FrameId;
}

export interface ProposedRiders {
  readonly proposals: readonly RiderProposal[];
  readonly notes: readonly string[];
}

export function proposeRiders(frames: readonly NumberCardFrame[], known: KnownCards): ProposedRiders {
  const proposals: RiderProposal[] = [];
  const notes: string[] = [];
  for (const frame of frames) {
    const answer = proposalOf(frame, known);
    if (typeof answer === 'string') notes.push(answer);
    else proposals.push(answer);
  }
  return { proposals, notes };
}

function proposalOf({ frameId, file, card, subjects }: NumberCardFrame, known: KnownCards): RiderProposal | string {
  const { number, token, at } = card;
  if (known.tokenOf(number) !== token)
    return `Expected a number card of this meeting but card ${number} in file ${file} is of another. It was left out; hand the rider a card of this meeting.`;
  const bike = bikeBeside(subjects, at);
  if (bike === undefined)
    return `Expected a bike beside card ${number} but found none in file ${file}. Photograph card and bike in one picture, or say which bike it is.`;
  const [left, top, width, height] = bike.bikeBox;
  const person = known.personOf(number);
  return {
    kind: 'rider-is',
    point: { file, x: left + width / 2, y: top + height / 2, box: bike.bikeBox },
    card: number,
    frameId,
    ...(person !== undefined && { person }),
  };
}

/** The motorcycle that the card is held against, else the nearest. */
function bikeBeside(subjects: readonly Subject[], at: SeenAt): Subject | undefined {
  const bikes = subjects.filter(({ what }) => what === 'motorcycle');
  return bikes.toSorted((a, b) => distance(a.box, at) - distance(b.box, at))[0];
}

/** 0 inside; of boxes that both hold it the smaller one is meant. */
function distance([left, top, width, height]: Box, { x, y }: SeenAt): number {
  const across = Math.max(left - x, 0, x - left - width);
  const down = Math.max(top - y, 0, y - top - height);
  const outside = Math.hypot(across, down);
  return outside > 0 ? 1 + outside : width * height;
}
