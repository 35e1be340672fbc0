/** The four lights that colours are judged in. */
import type { Sky } from '../../demo/render/light.js';

interface LightOfDay {
  readonly sky: Sky;
  readonly elevationDeg: number;
  /** What a photographer opens up by. */
  readonly exposureEv: number;
}

export const LIGHTS = {
  noon: {
    sky: { sunColour: [4, 3.6, 3], zenith: [0.24, 0.42, 0.86], horizon: [0.84, 0.92, 1.02], cloud: 0.5 },
    elevationDeg: 52,
    exposureEv: -0.2,
  },
  evening: {
    sky: { sunColour: [3.2, 2.1, 1.15], zenith: [0.24, 0.34, 0.6], horizon: [0.97, 0.76, 0.58], cloud: 0.3 },
    elevationDeg: 13,
    exposureEv: 0.4,
  },
  overcast: {
    sky: { sunColour: [0.9, 0.88, 0.84], zenith: [0.95, 1, 1.08], horizon: [1.12, 1.15, 1.2], cloud: 0.95 },
    elevationDeg: 45,
    exposureEv: 0.5,
  },
  shade: {
    sky: { sunColour: [0.12, 0.12, 0.12], zenith: [0.5, 0.62, 0.85], horizon: [0.6, 0.68, 0.8], cloud: 0.7 },
    elevationDeg: 40,
    exposureEv: 1.2,
  },
} as const satisfies Readonly<Record<string, LightOfDay>>;

export type LightName = keyof typeof LIGHTS;

/** The sun stands in front of the bike, then beside it, then behind. */
export const SUN_DEG = [30, 80, 130, -60, -110] as const;
