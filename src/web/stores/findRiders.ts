/** What is asked of the sheet of all riders, and who fits. Pure but for the store at the end. */
import type { ColourName } from '../../core/measure/types.js';
import type { FoundRiderView, RidersView } from '../../server/types.js';
import { createStore } from './store.js';

export interface Wish {
  /** Every one of them on the bike or on what is worn. */
  readonly colours: readonly ColourName[];
  readonly number: string;
  readonly group: string | null;
  /** A time of day on the meeting's clock as it is typed, `10:10` or `1010`; anything else asks for nothing. */
  readonly about: string;
}

export const NO_WISH: Wish = { colours: [], number: '', group: null, about: '' };

/** What was asked stays while one looks at a rider and comes back. */
export const wished = createStore<Wish>(NO_WISH);

export const isWished = (wish: Wish): boolean =>
  wish.colours.length > 0 || wish.number !== '' || wish.group !== null || clockMs(wish.about) !== null;

/** Two colours are said of a bike at most, and one of the leathers; a fourth takes the place of the first. */
export const withColour = (wish: Wish, name: ColourName): Wish => ({
  ...wish,
  colours: wish.colours.includes(name) ? wish.colours.filter((one) => one !== name) : [...wish.colours.slice(-2), name],
});

/** 0 fits, 1 may be meant, null does not. */
type Fit = 0 | 1 | null;

function colourFit(found: FoundRiderView, name: ColourName, colours: RidersView['colours']): Fit {
  const own = [...found.bikeColours, ...found.riderColours];
  if (own.includes(name)) return 0;
  const near = colours.find((one) => one.name === name)?.neighbours ?? [];
  return near.some((one) => own.includes(one)) ? 1 : null;
}

/** Colours stand by how much there is of each: who is red all over comes before who has red trim. */
const placeOf = ({ bikeColours, riderColours }: FoundRiderView, colours: readonly ColourName[]): number =>
  colours.reduce((sum, name) => {
    const places = [bikeColours.indexOf(name), riderColours.indexOf(name)].filter((place) => place >= 0);
    return sum + Math.min(...places, bikeColours.length + riderColours.length);
  }, 0);

const isOneDigitOff = (a: string, b: string): boolean =>
  a.length === b.length && [...a].filter((digit, i) => digit !== b[i]).length === 1;

/** A rider of whom no number was read may be meant, but only where something else speaks for it. */
function numberFit(found: FoundRiderView, wanted: string, isAlone: boolean): Fit {
  const text = found.rider.number?.text;
  if (text === undefined) return isAlone ? null : 1;
  if (text === wanted) return 0;
  return text.includes(wanted) || isOneDigitOff(text, wanted) ? 1 : null;
}

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
/** A rider remembers the time of day to some ten minutes; half an hour off may still be meant (no source). */
const ABOUT_MS = 10 * MINUTE_MS;
const PERHAPS_MS = 30 * MINUTE_MS;

/** Milliseconds after midnight, or null where it is no time of day. */
export function clockMs(text: string): number | null {
  const [, hour, minute] = /^([01]?\d|2[0-3])[:. ]?([0-5]\d)$/.exec(text) ?? [];
  return hour === undefined || minute === undefined ? null : (Number(hour) * 60 + Number(minute)) * MINUTE_MS;
}

/** Why what stands in the field is not asked for; null where it is, or where nothing stands there. */
export const aboutTrouble = (text: string): string | null =>
  text.trim() === '' || clockMs(text) !== null
    ? null
    : `Expected a time of day like 10:10 but got “${text}”, so it is not asked for.`;

const nearestMs = (found: FoundRiderView, aboutMs: number): number =>
  Math.min(...found.passedAt.map((wall) => Math.abs((wall % DAY_MS) - aboutMs)), Number.POSITIVE_INFINITY);

const timeFit = (found: FoundRiderView, aboutMs: number): Fit => {
  const off = nearestMs(found, aboutMs);
  return off <= ABOUT_MS ? 0 : off <= PERHAPS_MS ? 1 : null;
};

export interface Found {
  readonly fits: readonly FoundRiderView[];
  /** A neighbouring colour, a number read in part or not at all, a time half an hour off. */
  readonly near: readonly FoundRiderView[];
}

export function findRiders(view: RidersView, wish: Wish): Found {
  const aboutMs = clockMs(wish.about);
  const isNumberAlone = !isWished({ ...wish, number: '' });
  const fitOf = (found: FoundRiderView): Fit => {
    const fits: Fit[] = [
      ...wish.colours.map((name) => colourFit(found, name, view.colours)),
      wish.number === '' ? 0 : numberFit(found, wish.number, isNumberAlone),
      wish.group === null || found.group?.key === wish.group ? 0 : null,
      aboutMs === null ? 0 : timeFit(found, aboutMs),
    ];
    if (fits.includes(null)) return null;
    return fits.includes(1) ? 1 : 0;
  };
  const fits = new Map(view.riders.map((found) => [found, fitOf(found)]));
  const those = (wanted: Fit): FoundRiderView[] => {
    const some = view.riders.filter((found) => fits.get(found) === wanted);
    return aboutMs === null ? some : some.sort((a, b) => nearestMs(a, aboutMs) - nearestMs(b, aboutMs));
  };
  const byColour = (a: FoundRiderView, b: FoundRiderView) => placeOf(a, wish.colours) - placeOf(b, wish.colours);
  return { fits: aboutMs === null ? those(0).sort(byColour) : those(0), near: those(1) };
}
