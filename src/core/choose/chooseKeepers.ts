/** Proposes keepers for every rider, greedily, under a person's word. Rules CH1–CH8 in docs/rules/choose.md. */
import type { Arrangement, BikeRef, Rider } from '../arrange/types.js';
import {
  bikeKeyOf,
  type Coverage,
  GOOD_FRAME_RULES,
  judgePasses,
  type PassJudgements,
  subjectOf,
} from '../cover/index.js';
import type { FrameId } from '../ids.js';
import type { FoldedLog } from '../log/types.js';
import type { FrameMeasurement } from '../measure/types.js';
import type { ChooseRules, Keeper, Keepers } from './types.js';
import { type Word, wordsOf } from './words.js';
import { type Candidate, type Offer, offerOf, reasonsFor, takeInto, worthOf } from './worth.js';

export interface ChooseInput {
  readonly arrangement: Arrangement;
  readonly coverage: Coverage;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
  readonly rules?: Partial<ChooseRules>;
  /** Of this arrangement by the coverage's rules, where somebody judged them already. */
  readonly judgements?: PassJudgements;
}

/** Ten to thirty finished pictures a rider from at least three angles is common practice, no source. */
export const CHOOSE_RULES: ChooseRules = { mostPerRider: 12, mostPerSpot: 4, mostInAll: null, leastPerRider: 3 };

export function chooseKeepers(input: ChooseInput): Keepers {
  const rules = { ...CHOOSE_RULES, ...input.rules };
  const words = wordsOf(input.arrangement, input.pixels, input.log);
  const judgements =
    input.judgements ??
    judgePasses(input.arrangement, input.pixels, input.coverage.rules.goodFrame ?? GOOD_FRAME_RULES);
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
  judgements: PassJudgements,
  order: ReadonlyMap<FrameId, number>,
): readonly Candidate[] {
  return rider.passes
    .flatMap((index) => {
      const pass = arrangement.passes[index];
      if (pass === undefined) return [];
      return pass.bikes.map((bike, k): Candidate => {
        const subject = subjectOf(bike, pixels);
        return {
          bike,
          pass,
          subject: 'kind' in subject ? null : subject,
          judgement: judgements[index]?.[k] ?? { kind: 'unsure', reason: 'not judged' },
          order: order.get(bike.frameId) ?? 0,
        };
      });
    })
    .sort((a, b) => a.order - b.order || a.bike.subject - b.bike.subject);
}

/** First all that a person kept, then the best of the rest one by one, until a limit is reached or nothing is left. */
function keepersOf(
  rider: Rider,
  candidates: readonly Candidate[],
  words: ReadonlyMap<string, Word>,
  rules: ChooseRules,
): readonly Keeper[] {
  const offers = candidates.map(offerOf);
  const wordOn = ({ one }: Offer) => (words.size === 0 ? undefined : words.get(bikeKeyOf(one.bike)));
  const keepers: Keeper[] = [];
  const take = (offer: Offer, source: Keeper['source']): void => {
    const reasons = reasonsFor(offer);
    keepers.push({
      rider: rider.key,
      bike: offer.one.bike,
      reasons: source === 'kept-by-person' ? ['a person kept it', ...reasons] : reasons,
      worth: worthOf(offer),
      source,
    });
    takeInto(offers, offer);
  };
  for (const offer of offers) if (wordOn(offer) === 'keep') take(offer, 'kept-by-person');
  const free = proposable(offers.filter((offer) => wordOn(offer) === undefined));
  // A rider without one good frame still appears, once.
  const most = free[0]?.one.judgement.kind === 'good' ? rules.mostPerRider : Math.min(1, rules.mostPerRider);
  while (keepers.length < most) {
    const best = bestOpen(free, rules);
    if (best === undefined) break;
    take(best, 'proposed');
  }
  return keepers;
}

/** Good frames; where there are none, all of them, of which one will be taken: every rider must appear. */
function proposable(offers: readonly Offer[]): readonly Offer[] {
  const good = offers.filter(({ one }) => one.judgement.kind === 'good');
  return good.length > 0 ? good : offers;
}

/** Of equal worth the earlier one. */
function bestOpen(free: readonly Offer[], rules: ChooseRules): Offer | undefined {
  let best: Offer | undefined;
  let most = Number.NEGATIVE_INFINITY;
  for (const offer of free) {
    if (!isOpen(offer, rules)) continue;
    const worth = worthOf(offer);
    if (worth <= most) continue;
    best = offer;
    most = worth;
  }
  return best;
}

const isOpen = ({ one, shown, isShown }: Offer, rules: ChooseRules): boolean =>
  !isShown && (one.pass.spot === null || shown.spot < rules.mostPerSpot);

function leftOut(arrangement: Arrangement, words: ReadonlyMap<string, Word>): readonly BikeRef[] {
  if (words.size === 0) return [];
  return arrangement.passes.flatMap((pass) => pass.bikes).filter((bike) => words.get(bikeKeyOf(bike)) === 'leave-out');
}
