/** The few frames of each pass that are worth a look at full resolution. */
import type { Arrangement, BikeRef, Pass } from '../../core/arrange/types.js';
import type { FrameId } from '../../core/ids.js';
import type { FrameMeasurement } from '../../core/measure/types.js';

/** Previews tell the sharp from the soft of one pass but for near ties; two leave the choice. Common practice, no source. */
const FEW = 2;

/** Frames already measured in full count towards the few, so this settles. */
export function bestOfPasses(
  arrangement: Arrangement,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
): ReadonlySet<FrameId> {
  return new Set(arrangement.passes.flatMap((pass) => bestOf(pass, pixels)));
}

function bestOf(pass: Pass, pixels: ReadonlyMap<FrameId, FrameMeasurement>): readonly FrameId[] {
  const inFull = pass.bikes.filter(({ frameId }) => isFull(pixels.get(frameId)));
  const previews = pass.bikes
    .flatMap((bike) => {
      const sharpness = previewSharpness(bike, pixels);
      return sharpness === null ? [] : [{ frameId: bike.frameId, sharpness }];
    })
    .sort((a, b) => b.sharpness - a.sharpness);
  return previews.slice(0, Math.max(0, FEW - inFull.length)).map(({ frameId }) => frameId);
}

const isFull = (pixels: FrameMeasurement | undefined): boolean => pixels?.kind === 'measured' && pixels.tier === 'full';

function previewSharpness(
  { frameId, subject }: BikeRef,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
): number | null {
  const frame = pixels.get(frameId);
  if (frame?.kind !== 'measured' || frame.tier === 'full') return null;
  const sharpness = frame.subjects[subject]?.sharpness;
  return sharpness === undefined || 'kind' in sharpness ? null : sharpness.overall;
}
