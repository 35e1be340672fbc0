/** What a buyer typed and ticked, read at the edge: what is still lacking, and what the order takes of it. */
import { z } from 'zod';
import { hasDownloads } from '../../core/handover/law/index.js';
import type { Contact, DownloadConsent, PricedBasket, WayToPay } from '../../core/handover/orders/index.js';
import type { EpochMs } from '../../core/units.js';
import type { Lack, Typed } from '../pages/orderForm.js';
import type { Words } from '../pages/words/index.js';
import type { ShopPorts } from './types.js';

type Fields = Readonly<Record<string, string>>;

/** Control characters have no place in a name or an address line, and would break a letter's head. */
const line = (most: number) =>
  z
    .string()
    .trim()
    .min(1)
    .max(most)
    .regex(/^\P{Cc}*$/u);
const checks = {
  name: line(100),
  mail: z.email().max(200),
  address: z
    .string()
    .trim()
    .min(5)
    .max(400)
    .regex(/^(?:\P{Cc}|[\r\n])*$/u),
} as const;

export const hasPrints = ({ lines }: PricedBasket): boolean => lines.some(({ asked }) => asked.kind === 'print');

/** None where nothing is left to pay. */
export function waysFor(
  { totals }: PricedBasket,
  prepaid: number,
  { settings, provider }: ShopPorts,
): readonly WayToPay[] {
  if (totals.toPay - prepaid <= 0) return [];
  return [...(provider === null ? [] : (['provider'] as const)), ...settings.ways];
}

export function lacksOf(sent: Fields, basket: PricedBasket, prepaid: number, ports: ShopPorts): readonly Lack[] {
  const ways = waysFor(basket, prepaid, ports);
  const lacks: readonly (readonly [Lack, boolean])[] = [
    ['name', !checks.name.safeParse(sent.name).success],
    ['mail', !checks.mail.safeParse(sent.mail?.trim()).success],
    ['address', hasPrints(basket) && !checks.address.safeParse(sent.address).success],
    ['way', ways.length > 0 && !ways.some((way) => way === sent.way)],
    ['consent', hasDownloads(basket) && !(sent.supply === 'yes' && sent.loss === 'yes')],
  ];
  return lacks.filter(([, isLacking]) => isLacking).map(([lack]) => lack);
}

export const typedOf = ({ name = '', mail = '', address = '', way = '' }: Fields): Typed => ({
  name: name.slice(0, 100),
  mail: mail.slice(0, 200),
  address: address.slice(0, 400),
  way,
});

/** An address is kept only where something is sent to it. */
export const contactOf = (sent: Fields, basket: PricedBasket): Contact => ({
  name: (sent.name ?? '').trim(),
  mail: (sent.mail ?? '').trim(),
  address: hasPrints(basket) ? (sent.address ?? '').trim() : null,
});

/** The words that stood beside each tick are kept with the moment. */
export function consentOf(basket: PricedBasket, words: Words, at: EpochMs): DownloadConsent | null {
  if (!hasDownloads(basket)) return null;
  return {
    immediateSupply: { at, words: words.consentSupply },
    lossOfCancellation: { at, words: words.consentLoss },
  };
}
