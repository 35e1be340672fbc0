/** The few settings that fit a run sheet or a pocket: a lens, a sure shutter and a slow one. */
import { markOf, SHUTTERS } from '../../numeric/exposure.js';
import type { Aspect } from '../circuit/types.js';
import type { SpotSettings } from './types.js';

export interface StartingSettings {
  /** For instance `260 mm, side-on`. */
  readonly lens: string;
  /** The figure under the 1: 320 is 1/320 s. */
  readonly sure: number;
  /** Absent where going down gains nothing. */
  readonly slow?: number;
}

const ASPECT_WORDS: Readonly<Record<Aspect, string>> = {
  'side-on': 'side-on',
  'three-quarter': 'three-quarter',
  'head-on': 'head-on',
  'going-away': 'going away',
};

export const startingSettings = ({ framing, ladder }: SpotSettings, aspect: Aspect): StartingSettings => {
  const slow = slowOf(ladder);
  return {
    lens: `${roundedFocal(framing.usedFocalMm)} mm, ${ASPECT_WORDS[aspect]}`,
    sure: figureUnder(ladder.start),
    ...(slow === null ? {} : { slow: figureUnder(slow) }),
  };
};

/** Where the streak is a tenth of the bike, if that is slower than the start and on the ladder; else its end. */
const slowOf = ({ start, end, tenthAt }: SpotSettings['ladder']): string | null => {
  if (start === end) return null;
  const seconds = (shutter: string) => markOf(SHUTTERS, shutter).exact;
  const isOnTheWay = tenthAt !== null && seconds(tenthAt) > seconds(start) && seconds(tenthAt) < seconds(end);
  return isOnTheWay ? tenthAt : end;
};

const figureUnder = (shutter: string): number => Number(shutter.replace('1/', ''));

/** As one sets a zoom: to 5 mm below 100, else to 10. */
const roundedFocal = (mm: number): number => (mm < 100 ? Math.round(mm / 5) * 5 : Math.round(mm / 10) * 10);
