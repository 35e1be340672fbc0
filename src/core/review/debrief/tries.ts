/** Every bike that was judged, with how it was taken: what hit rates are counted from. */

import type { Pass } from '../../arrange/types.js';
import { bikeKeyOf } from '../../cover/goodFrames.js';
import type { FrameMeasurement } from '../../measure/types.js';
import { nearestMark, SHUTTERS } from '../../numeric/exposure.js';
import type { WallMs } from '../../units.js';
import type { KitInput } from '../kit/judgedBikes.js';
import type { EvidenceFrame } from '../kit/types.js';
import type { Taken } from './types.js';

/** Where lenses are usually set (own convention); the nearest in ratio stands for what lies between. */
export const FOCAL_LENGTHS_MM: readonly number[] = [16, 24, 35, 50, 70, 85, 100, 135, 200, 300, 400, 500, 600, 800];

export interface Try {
  readonly pass: Pass;
  readonly is: 'hit' | 'soft' | 'cut';
  readonly of: Taken;
  readonly wall: WallMs | null;
  readonly frame: EvidenceFrame;
}

export interface Tries {
  readonly tries: readonly Try[];
  readonly unsure: number;
}

const OUTCOME = { good: 'hit', soft: 'soft', cut: 'cut' } as const;

export function triesOf(input: Omit<KitInput, 'spotName'>): Tries {
  const { arrangement, judgements, pixels, metadata } = input;
  const exposures = new Map(arrangement.exposures.map((exposure) => [exposure.frameId, exposure]));
  const tries: Try[] = [];
  let unsure = 0;
  for (const pass of arrangement.passes)
    for (const bike of pass.bikes) {
      const judged = judgements.get(bikeKeyOf(bike));
      const exposure = exposures.get(bike.frameId);
      if (judged === undefined || judged.kind === 'unsure' || exposure === undefined) {
        unsure += 1;
        continue;
      }
      const taken = metadata.get(exposure.mainFile);
      const group = arrangement.sessions[pass.session]?.group ?? null;
      const focal = taken?.lens.focalLengthMm;
      tries.push({
        pass,
        is: OUTCOME[judged.kind],
        of: {
          ...(taken?.exposure.shutterS !== undefined && {
            shutterS: nearestMark(SHUTTERS, taken.exposure.shutterS).exact,
          }),
          ...(pass.spot !== null && { spot: pass.spot }),
          ...(group !== null && { group }),
          ...(focal !== undefined && focal > 0 && { focalMm: nearestFocal(focal) }),
        },
        wall: exposure.wall,
        frame: { frameId: bike.frameId, look: boxOf(pixels.get(bike.frameId), bike.subject) },
      });
    }
  return { tries, unsure };
}

const nearestFocal = (mm: number): number =>
  FOCAL_LENGTHS_MM.reduce((best, one) => (ratio(one, mm) < ratio(best, mm) ? one : best));

const ratio = (a: number, b: number): number => Math.abs(Math.log(a / b));

const boxOf = (measured: FrameMeasurement | undefined, subject: number): EvidenceFrame['look'] =>
  (measured?.kind === 'measured' && measured.subjects[subject]?.box) || null;
