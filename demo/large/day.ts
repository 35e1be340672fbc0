/**
 * An enlarged meeting, by seed: 63 riders and two instructors in three groups, five rounds at five spots, about a thousand
 * frames. Nobody is seen twice from one side, so every link from session to session is across views.
 */
import {
  type DayOptions,
  type NamedShot,
  ORDINARY_DAY,
  type PhotographedDay,
  photographDay,
} from '../simulated-day/index.js';
import { largeRiders } from './riders.js';
import type { LargeDay } from './shots.js';
import { LARGE_SPOTS } from './spots.js';

export interface LargeMeeting extends LargeDay {
  readonly photographed: PhotographedDay;
  /** The bike aimed at stands first in each. */
  readonly shots: readonly NamedShot[];
}

const optionsFor = (seed: number): DayOptions => ({
  ...ORDINARY_DAY,
  seed,
  groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 21 })),
  rounds: LARGE_SPOTS.length,
  spots: LARGE_SPOTS.length,
  attention: 0.26,
  burstFrames: [1, 3],
  instructors: 2,
  saysFastestLap: false,
});

export function largeMeeting(seed: number): LargeMeeting {
  const options = optionsFor(seed);
  const photographed = photographDay(options);
  const { sessions } = photographed;
  const shots = photographed.shots.map(({ file, shot }) => ({ file, shot: { ...shot, bikes: aimedFirst(shot) } }));
  return {
    seed,
    groups: options.groups,
    sessions,
    riders: largeRiders(seed, photographed.riders),
    photographed,
    shots,
  };
}

/** The simulated photographer has the bike aimed at in the middle. */
const MIDDLE = 0.35;

const aimedFirst = ({ bikes }: NamedShot['shot']) =>
  [...bikes].sort((a, b) => Math.abs(a.left - MIDDLE) - Math.abs(b.left - MIDDLE));
