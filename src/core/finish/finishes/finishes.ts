/** Finishes to begin with, and a finish with a frame's balance made into a look. */
import type { Balance, Finish, Framing, Look, Strengths } from './types.js';
import { HUES } from './types.js';

/** Raised when the same look would give other pixels. */
const LOOK_VERSION = 1;

export const evenStrengths = (strength: number): Strengths =>
  Object.fromEntries(HUES.map((hue) => [hue, strength])) as unknown as Strengths;

/** Changes nothing. */
export const PLAIN_FINISH: Finish = {
  name: 'as it is',
  alike: 0,
  warmth: 0,
  tint: 0,
  exposureEv: 0,
  tones: { contrast: 1, brightParts: 0, shade: 0 },
  strengths: evenStrengths(1),
  sharpness: 0,
  grain: 0,
  isLevelled: false,
  leadRoom: 1,
  ratios: [],
};

/** What a meeting has until a person says otherwise: alike, level, a little clearer. Chosen by eye on renders, no source. */
export const FIRST_FINISH: Finish = {
  ...PLAIN_FINISH,
  name: 'one day',
  alike: 1,
  tones: { contrast: 1.06, brightParts: 0.1, shade: 0.25 },
  strengths: evenStrengths(1.04),
  sharpness: 0.4,
  isLevelled: true,
  leadRoom: 1.4,
};

const NO_BALANCE: Balance = { gains: [1, 1, 1] };
const AS_TAKEN: Framing = { turnDeg: 0, crop: null };

/** Gains are part of what a picture is known by: fine enough to see no step, coarse enough to be told apart by digits. */
const rounded = (gain: number): number => Math.round(gain * 10_000) / 10_000;

/** @param balance of this frame, as `alike` found it */
export function lookOf(finish: Finish, balance: Balance = NO_BALANCE, framing: Framing = AS_TAKEN): Look {
  const [red, green, blue] = whiteOf(finish);
  const ev = 2 ** finish.exposureEv;
  const own = balance.gains.map((gain) => gain ** finish.alike) as unknown as Balance['gains'];
  return {
    v: LOOK_VERSION,
    turnDeg: finish.isLevelled ? framing.turnDeg : 0,
    crop: framing.crop,
    gains: [rounded(own[0] * red * ev), rounded(own[1] * green * ev), rounded(own[2] * blue * ev)],
    tones: finish.tones,
    strengths: finish.strengths,
    sharpness: finish.sharpness,
    grain: finish.grain,
  };
}

export const PLAIN_LOOK: Look = lookOf(PLAIN_FINISH);

/** Gains of warmth and tint that leave a grey as bright as it is. */
function whiteOf({ warmth, tint }: Finish): Balance['gains'] {
  const [red, green, blue] = [2 ** (warmth / 2), 2 ** -tint, 2 ** (-warmth / 2)];
  const luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  return [red / luminance, green / luminance, blue / luminance];
}
