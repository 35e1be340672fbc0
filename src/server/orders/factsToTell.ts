/** What a person says of an order at the desk, as the facts that are told to the service; a sentence where there is nothing to tell. */
import { z } from 'zod';
import type { FactToTell } from '../../core/handover/law/index.js';
import { type Minor, moneyBack, moneyCame, type OrderState } from '../../core/handover/orders/index.js';
import { wrongRiderFacts } from '../../host/orders/wrongRiderAction.js';
import { DeskError } from '../DeskError.js';
import type { OrderSaid } from './types.js';

const MOST_PICTURES = 20_000;
const seen = z.object({ paid: z.int().min(0), refunded: z.int().min(0) });
export const orderSaid = z.discriminatedUnion('say', [
  z.object({
    seen,
    say: z.literal('money'),
    way: z.enum(['cash', 'terminal', 'transfer']),
    reference: z.string().max(200),
  }),
  z.object({ seen, say: z.literal('back') }),
  z.object({ seen, say: z.literal('wrong-rider'), pictures: z.array(z.string()).min(1).max(MOST_PICTURES) }),
  z.object({ seen, say: z.literal('cancel') }),
]);

export function factsToTell(state: OrderState, said: OrderSaid): readonly FactToTell[] {
  const { paid, refunded, owed, standing } = state;
  if (paid !== said.seen.paid || refunded !== said.seen.refunded)
    throw new DeskError(
      409,
      'Nothing was told: other money came or went since this was shown. It is shown as it stands now; look, and say it again.',
    );
  switch (said.say) {
    case 'money':
      if (owed === 0) throw nothing('nothing is owed on this order any more');
      return [moneyCame(state, owed, said.way, said.reference)];
    case 'back':
      if (paid <= refunded) throw nothing('no money of this order is left to give back');
      return [moneyBack(state, (paid - refunded) as Minor, 'kindness', '')];
    case 'wrong-rider': {
      const facts = wrongRiderFacts(state, said.pictures);
      if (facts.length === 0) throw nothing('none of these pictures is in the order any more');
      return facts;
    }
    case 'cancel':
      if (standing !== 'waiting-for-money' || paid > 0) throw nothing('only what nobody has paid is cancelled');
      return [{ key: 'cancelled-at-the-desk', fact: { kind: 'cancelled', by: 'photographer' } }];
  }
}

const nothing = (why: string): DeskError => new DeskError(409, `Nothing was told: ${why}.`);
