/**
 * Riders by what people say of themselves: colours, a number, a session. Colours and sessions are one tap each, a second tap takes one
 * back, and only what still leads to somebody is offered. Without scripts: every tap is a link.
 */
import { html } from 'hono/html';
import type { Offer, OfferRider } from '../../core/handover/orders/index.js';
import type { ColourName } from '../../core/measure/types.js';
import { wordsOf as galleryWordsOf } from '../../gallery/words/index.js';
import { type Html, nothing } from './frame.js';
import { type Language, wordsOf } from './words/index.js';

/** As it stands in the page's address. */
export interface Sought {
  readonly bike: string;
  readonly session: string;
}

const COLOURS = Object.keys(galleryWordsOf.en.colours) as readonly ColourName[];
const termsOf = (text: string): readonly string[] => text.toLowerCase().split(/\s+/).filter(Boolean);
/** A fluorescent colour is said in two words. */
const has = (terms: readonly string[], colour: ColourName): boolean =>
  termsOf(colour).every((one) => terms.includes(one));

export const isAsked = ({ bike, session }: Sought): boolean => bike.trim() !== '' || session !== '';

/** Yellow is not offered for a fluorescent one, though who says yellow finds it. */
const patterns = new Map(COLOURS.map((one) => [one, new RegExp(`(?<!fluorescent )\\b${one}\\b`, 'i')]));
const isIn = (livery: string, colour: ColourName): boolean => patterns.get(colour)!.test(livery);

/** Colours in the page's language or in the livery's own words; whatever begins with a figure is a number. */
export function fits(
  { bike, session }: Sought,
  { sessions = [] }: Offer,
  language: Language,
): (one: OfferRider) => boolean {
  const named = galleryWordsOf[language].colours;
  const inSession = new Set(sessions.find(({ name }) => name === session)?.riders);
  const isOf = (term: string, { livery, number }: OfferRider): boolean => {
    if (/^\d/.test(term)) return number === term;
    const words = livery.toLowerCase();
    return (
      words.includes(term) || COLOURS.some((one) => named[one].toLowerCase().includes(term) && words.includes(one))
    );
  };
  return (rider) =>
    termsOf(bike).every((term) => isOf(term, rider)) && (session === '' || inSession.has(rider.publicId));
}

export function taps(sought: Sought, offer: Offer, found: readonly OfferRider[], language: Language): Html {
  const words = wordsOf[language];
  const terms = termsOf(sought.bike);
  const names = galleryWordsOf[language].colours;
  const tap = (isOn: boolean, next: Sought, text: string): Html => {
    const address = `?${new URLSearchParams({ ...next })}`;
    return html`<li><a href="${address}"${isOn ? html` aria-current="true"` : nothing}><bdi>${text}</bdi></a></li>`;
  };
  const colours = COLOURS.filter((one) => found.some(({ livery }) => isIn(livery, one))).map((one) => {
    const isOn = has(terms, one);
    const left = isOn ? terms.filter((term) => !termsOf(one).includes(term)) : [...terms, one];
    return tap(isOn, { ...sought, bike: left.join(' ') }, names[one]);
  });
  const ids = new Set(found.map(({ publicId }) => publicId));
  const sessions = (offer.sessions ?? [])
    .filter(({ name, riders }) => name === sought.session || riders.some((one) => ids.has(one)))
    .map(({ name }) => {
      const isOn = name === sought.session;
      return tap(isOn, { ...sought, session: isOn ? '' : name }, name);
    });
  const row = (label: string, all: readonly Html[]): Html =>
    all.length === 0
      ? nothing
      : html`<nav aria-label="${label}"><p class="quiet">${label}</p><ul class="taps">${all}</ul></nav>`;
  return html`${row(words.colour, colours)}${row(words.session, sessions)}`;
}
