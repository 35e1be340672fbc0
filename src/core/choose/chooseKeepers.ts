/** Proposes keepers for every rider, greedily, under a person's word. Rules CH1–CH8 in docs/rules/choose.md. */
import type { Arrangement, BikeRef, Rider } from '../arrange/types.js';
import { bikeKeyOf, type Coverage, GOOD_FRAME_RULES, type Judgements, judgeBikes, subjectOf } from '../cover/index.js';
import type { FrameId } from '../ids.js';
import type { FoldedLog } from '../log/types.js';
import type { FrameMeasurement } from '../measure/types.js';
import type { ChooseRules, Keeper, Keepers } from './types.js';
import { type Word, wordsOf } from './words.js';
import { type Candidate, isNearDuplicate, reasonsFor, worthOf } from './worth.js';

export interface ChooseInput {
  readonly arrangement: Arrangement;
  readonly coverage: Coverage;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
  readonly rules?: Partial<ChooseRules>;
}

/** Ten to thirty finished pictures a rider from at least three angles is common practice, no source. */
export const CHOOSE_RULES: ChooseRules = { mostPerRider: 12, mostPerSpot: 4 };

export function chooseKeepers(input: ChooseInput): Keepers {
  const rules = { ...CHOOSE_RULES, ...input.rules };
  const words = wordsOf(input.arrangement, input.pixels, input.log);
  const judgements = judgeBikes(input.arrangement, input.pixels, input.coverage.rules.goodFrame ?? GOOD_FRAME_RULES);
  const order = new Map(input.arrangement.exposures.map((exposure, index) => [exposure.frameId, index]));
  const byRider = new Map(
    input.arrangement.riders.map((rider) => {
      const candidates = candidatesOf(rider, input, judgements, order);
      return [rider.key, keepersOf(rider, candidates, words, rules)] as const;
    }),
  );
  return { rules, byRider, leftOut: leftOut(input.arrangement, words) };
}

function candidatesOf(
  rider: Rider,
  { arrangement, pixels }: ChooseInput,
  judgements: Judgements,
  order: ReadonlyMap<FrameId, number>,
): readonly Candidate[] {
  return rider.passes
    .map((index) => arrangement.passes[index])
    .filter((pass) => pass !== undefined)
    .flatMap((pass) =>
      pass.bikes.map((bike): Candidate => {
        const subject = subjectOf(bike, pixels);
        const judgement = judgements.get(bikeKeyOf(bike)) ?? { kind: 'unsure', reason: 'not judged' };
        return {
          bike,
          pass,
          subject: 'kind' in subject ? null : subject,
          judgement,
          order: order.get(bike.frameId) ?? 0,
        };
      }),
    )
    .sort((a, b) => a.order - b.order || a.bike.subject - b.bike.subject);
}

/** First all that a person kept, then the best of the rest one by one, until a limit is reached or nothing is left. */
function keepersOf(
  rider: Rider,
  candidates: readonly Candidate[],
  words: ReadonlyMap<string, Word>,
  rules: ChooseRules,
): readonly Keeper[] {
  const wordOn = (one: Candidate) => words.get(bikeKeyOf(one.bike));
  const taken: Candidate[] = [];
  const keepers: Keeper[] = [];
  for (const one of candidates.filter((candidate) => wordOn(candidate) === 'keep')) {
    const reasons = ['a person kept it', ...reasonsFor(one, taken)];
    keepers.push({ rider: rider.key, bike: one.bike, reasons, worth: worthOf(one, taken), source: 'kept-by-person' });
    taken.push(one);
  }
  const free = proposable(candidates.filter((candidate) => wordOn(candidate) === undefined));
  for (let best = next(free, taken, rules); best; best = next(free, taken, rules)) {
    const [worth, reasons] = [worthOf(best, taken), reasonsFor(best, taken)];
    keepers.push({ rider: rider.key, bike: best.bike, reasons, worth, source: 'proposed' });
    taken.push(best);
    // A rider without one good frame still appears, once.
    if (best.judgement.kind !== 'good') break;
  }
  return keepers;
}

/** Good frames; where there are none, all of them, of which one will be taken: every rider must appear. */
function proposable(candidates: readonly Candidate[]): readonly Candidate[] {
  const good = candidates.filter((one) => one.judgement.kind === 'good');
  return good.length > 0 ? good : candidates;
}

function next(free: readonly Candidate[], taken: readonly Candidate[], rules: ChooseRules): Candidate | undefined {
  if (taken.length >= rules.mostPerRider) return undefined;
  const open = free.filter((one) => isOpen(one, taken, rules));
  const isFallback = free[0]?.judgement.kind !== 'good';
  if (isFallback && taken.length > 0) return undefined;
  return open.reduce<{ one: Candidate; worth: number } | undefined>((best, one) => {
    const worth = worthOf(one, taken);
    return best && best.worth >= worth ? best : { one, worth };
  }, undefined)?.one;
}

function isOpen(one: Candidate, taken: readonly Candidate[], rules: ChooseRules): boolean {
  if (taken.some((other) => other.bike.frameId === one.bike.frameId || isNearDuplicate(other, one))) return false;
  const here = taken.filter((other) => other.pass.spot === one.pass.spot);
  return one.pass.spot === null || here.length < rules.mostPerSpot;
}

function leftOut(arrangement: Arrangement, words: ReadonlyMap<string, Word>): readonly BikeRef[] {
  return arrangement.passes.flatMap((pass) => pass.bikes).filter((bike) => words.get(bikeKeyOf(bike)) === 'leave-out');
}
