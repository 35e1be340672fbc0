/**
 * Which passes lie in a rider's set and which wait for a person: a frame shown to the wrong rider can be sold to the
 * wrong person, so what is below the confidence line is in nobody's set.
 */
import type { FoundDay } from './foundDay.js';
import { confidenceOf, isBelowLine, type PassTie } from './riders/confidence.js';
import { membersOf } from './riders/describeRiders.js';
import type { SaidDay } from './saidDay.js';

export type Placing =
  | { readonly kind: 'said' }
  /** A person settled the rider with this pass in it. */
  | { readonly kind: 'settled' }
  /** The rider's only pass, or what only a person saw: nothing speaks for or against it. */
  | { readonly kind: 'alone' }
  | {
      readonly kind: 'guessed';
      readonly confidence: number;
      readonly isUnsure: boolean;
      readonly others: number;
      /** Another rider, as a number of `SaidDay.labels`, or null where none comes near. */
      readonly rival: number | null;
    };

/** Per pass of the day as said. Of every rider at least one pass is placed: the one that it is known by. */
export function placingsOf(found: FoundDay, said: SaidDay): readonly Placing[] {
  const placings = new Array<Placing>(said.passes.length);
  for (const members of membersOf(said.labels)) {
    const own = members.map((p) => placingOf(p, members.length - 1, found, said));
    const isAllUnsure = own.every(isUnsure);
    const kept = isAllUnsure ? surest(own) : -1;
    members.forEach((p, k) => {
      const placing = own[k]!;
      placings[p] = k === kept ? { kind: 'alone' } : placing;
    });
  }
  return placings;
}

export const isUnsure = (placing: Placing): boolean => placing.kind === 'guessed' && placing.isUnsure;

function placingOf(p: number, others: number, found: FoundDay, said: SaidDay): Placing {
  if (said.saidPasses.has(p)) return { kind: 'said' };
  if (said.settled.passes.has(p)) return { kind: 'settled' };
  const tie = tieOfPass(p, found, said);
  const confidence = tie === null ? null : confidenceOf(tie);
  if (tie === null || confidence === null || others === 0) return { kind: 'alone' };
  return { kind: 'guessed', confidence, isUnsure: isBelowLine(tie), others, rival: rivalRider(p, tie, found, said) };
}

export function tieOfPass(p: number, found: FoundDay, said: SaidDay): PassTie | null {
  const at = said.foundPass[p]!;
  return at < 0 ? null : (found.clustering.ties[at] ?? null);
}

function rivalRider(p: number, { rival }: PassTie, found: FoundDay, said: SaidDay): number | null {
  const first = found.clustering.clusters[rival]?.passes[0];
  if (first === undefined) return null;
  const pass = said.passOf[found.passes[first]!.bikes[0]!]!;
  const rider = pass < 0 ? null : said.labels[pass]!;
  return rider === said.labels[p] ? null : rider;
}

function surest(placings: readonly Placing[]): number {
  const worth = (placing: Placing): number => (placing.kind === 'guessed' ? placing.confidence : 1);
  return placings.reduce((best, placing, k) => (worth(placing) > worth(placings[best]!) ? k : best), 0);
}

/** In one sentence why a pass is its rider's, by the clues there are. */
export function whyOf(placing: Placing, codeOf: (rider: number) => string, clues: readonly string[]): string {
  if (placing.kind === 'said') return 'A person said so.';
  if (placing.kind === 'settled') return 'A person settled this rider with it.';
  if (placing.kind === 'alone') return 'Nothing to compare it with: no other pass holds this rider together.';
  const rest =
    placing.others === 1 ? 'the other pass of this rider' : `the other ${placing.others} passes of this rider`;
  const rival = placing.rival === null ? null : codeOf(placing.rival);
  if (placing.isUnsure)
    return rival === null
      ? `Holds only loosely to ${rest}; in nobody’s set until somebody says whose it is.`
      : `Fits ${rest}, but ${rival} nearly as well; in nobody’s set until somebody says whose it is.`;
  const by = [clues.slice(0, -1).join(', '), ...clues.slice(-1)].filter((words) => words !== '').join(' and ');
  return rival === null
    ? `Fits ${rest} in ${by}, and nobody else comes near.`
    : `Fits ${rest} in ${by}, clearly better than ${rival}.`;
}
