/** What the kit did, from the frames of one day: rules PL810–PL819 and PL830–PL831. Dust is looked for apart, in the files themselves. */
import { clockDrifts } from './clockDrift.js';
import { BLOCKED, BURNT, endOfScale } from './endsOfScale.js';
import { focusLean } from './focusLean.js';
import { howLow } from './howLow.js';
import { judgedBikes, type KitInput } from './judgedBikes.js';
import { sharpAtShutter } from './sharpAtShutter.js';
import { shimmerOfDay } from './shimmerOfDay.js';
import type { KitRecords } from './types.js';

export function kitRecords(input: KitInput): KitRecords {
  const { arrangement, pixels, spotName } = input;
  const bikes = judgedBikes(input);
  return {
    howLow: howLow(bikes, spotName),
    sharpness: sharpAtShutter(bikes, (session) => arrangement.sessions[session]?.group ?? null, spotName),
    clipped: endOfScale(arrangement.exposures, pixels, BURNT),
    blocked: endOfScale(arrangement.exposures, pixels, BLOCKED),
    focus: focusLean(bikes),
    shimmer: shimmerOfDay(bikes),
    clocks: clockDrifts(arrangement, pixels),
  };
}
