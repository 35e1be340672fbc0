/** A day as the laptop hands it to the phone: one code that a phone reads off the screen, or why it must be the file. */
import { fitDay, MOST_QR_LETTERS, type PocketDay } from '../../core/plan/pocket/index.js';
import { zlibSqueezer } from './squeezer.js';

export type Carried =
  | {
      readonly kind: 'code';
      /** The whole address, for one code of level L. */
      readonly text: string;
      /** Comes back with what is tapped by it. */
      readonly check: string;
      readonly squeezedBytes: number;
      /** Riders to look for that fit. */
      readonly watched: number;
      /** What did not fit beside the rest. */
      readonly leftOut: readonly string[];
    }
  | { readonly kind: 'file-only'; readonly sentence: string };

/** @param address where the pocket page is hosted; see `hostedAddress` */
export async function carryDay(day: PocketDay, address: string): Promise<Carried> {
  const fitted = await fitDay(day, MOST_QR_LETTERS - address.length - 1, zlibSqueezer);
  if (fitted.kind === 'too-large') return { kind: 'file-only', sentence: fitted.sentence };
  const text = `${address}#${fitted.code.code}`;
  const { squeezedBytes, check } = fitted.code;
  return { kind: 'code', text, check, squeezedBytes, watched: fitted.day.watch.length, leftOut: fitted.leftOut };
}

/** More would leave no room for the day. */
const MOST_ADDRESS_LETTERS = 200;

export type HostedAddress =
  | { readonly kind: 'address'; readonly address: string }
  | { readonly kind: 'wrong'; readonly sentence: string };

/** Over HTTPS: else a phone keeps no page for where there is no signal. Without query and fragment: the day stands there. */
export function hostedAddress(text: string): HostedAddress {
  const address = text.trim();
  const url = URL.canParse(address) ? new URL(address) : null;
  const isHosted = url?.protocol === 'https:' && url.search === '' && url.hash === '' && url.username === '';
  if (isHosted && address.length <= MOST_ADDRESS_LETTERS) return { kind: 'address', address: url.href };
  return {
    kind: 'wrong',
    sentence: `Expected where the pocket page is hosted, as https://pictures.example/pocket/, but got ${address === '' ? 'nothing' : `“${address.slice(0, 60)}”`}. Put its folder beside the gallery and say that address.`,
  };
}
