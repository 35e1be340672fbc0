/** Whether the kit is insured for what it is worth (rule PL927). */
import { moneyInWords } from './money.js';
import type { Check, KitItem, OwnPapers } from './types.js';

export function checkKit(kit: readonly KitItem[], own: OwnPapers): readonly Check[] {
  if (kit.length === 0) return [{ id: 'kit', is: 'missing', sentence: 'No kit is written down yet.' }];
  return [...uninsuredChecks(kit), ...serialChecks(kit), ...sumChecks(kit, own)];
}

const namesOf = (items: readonly KitItem[]): string => items.map(({ name }) => name).join(', ');

function uninsuredChecks(kit: readonly KitItem[]): readonly Check[] {
  const bare = kit.filter(({ isInsured }) => isInsured === false);
  const unsaid = kit.filter(({ isInsured, value }) => isInsured === undefined && value !== undefined);
  return [
    ...(bare.length > 0
      ? [{ id: 'uninsured', is: 'missing' as const, sentence: `Not insured: ${namesOf(bare)}.` }]
      : []),
    ...(unsaid.length > 0
      ? [
          {
            id: 'insured-unsaid',
            is: 'mind' as const,
            sentence: `Whether it is insured is not said of: ${namesOf(unsaid)}.`,
          },
        ]
      : []),
  ];
}

/** An insurer asks for them, and so do the police. */
function serialChecks(kit: readonly KitItem[]): readonly Check[] {
  const without = kit.filter(({ kind, serial }) => (kind === 'body' || kind === 'lens') && serial === undefined);
  if (without.length === 0) return [];
  return [{ id: 'serials', is: 'mind', sentence: `No serial number is written down of: ${namesOf(without)}.` }];
}

function sumChecks(kit: readonly KitItem[], { kitInsured }: OwnPapers): readonly Check[] {
  const insured = kit.filter(({ isInsured }) => isInsured !== false);
  const id = 'kit-insured';
  if (kitInsured === undefined)
    return [{ id, is: 'missing', sentence: 'For how much the kit is insured is not written down.' }];
  const foreign = insured.filter(({ value }) => value !== undefined && value.currency !== kitInsured.currency);
  if (foreign.length > 0) {
    const sentence = `Valued in another currency than ${kitInsured.currency}, so not summed up: ${namesOf(foreign)}.`;
    return [{ id, is: 'mind', sentence }];
  }
  const unvalued = insured.filter(({ value }) => value === undefined);
  const amount = insured.reduce((sum, { value, count }) => sum + (value?.amount ?? 0) * count, 0);
  const worth = moneyInWords({ amount, currency: kitInsured.currency });
  const sum = moneyInWords(kitInsured);
  if (amount > kitInsured.amount) {
    const share = Math.floor((kitInsured.amount / amount) * 100);
    const sentence = `The kit is worth ${worth} and insured for ${sum}: a claim may be paid in proportion, ${share} % of a loss.`;
    return [{ id, is: 'missing', sentence }];
  }
  const rest = unvalued.length === 0 ? '' : ` No value is written down of: ${namesOf(unvalued)}.`;
  return [
    {
      id,
      is: unvalued.length === 0 ? 'settled' : 'mind',
      sentence: `The kit is worth ${worth} and insured for ${sum}.${rest}`,
    },
  ];
}
