/** Bikes that are whole and could be compared, each with what was measured of it: the ground of what is said of sharpness. */
import type { Arrangement, BikeRef, Exposure, Pass } from '../../arrange/types.js';
import { bikeKeyOf, type Judgements } from '../../cover/goodFrames.js';
import type { FrameId, SpotId } from '../../ids.js';
import type { FileMetadata, FrameMeasurement, Subject } from '../../measure/types.js';
import { nearestMark, SHUTTERS } from '../../numeric/exposure.js';
import type { EvidenceFrame } from './types.js';

export interface KitInput {
  readonly arrangement: Arrangement;
  readonly judgements: Judgements;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly metadata: ReadonlyMap<string, FileMetadata>;
  /** As the person calls it, for sentences. */
  readonly spotName: (spot: SpotId) => string;
}

export interface JudgedBike {
  readonly pass: Pass;
  readonly bike: BikeRef;
  readonly exposure: Exposure;
  readonly metadata: FileMetadata;
  readonly isSharp: boolean;
  readonly lens: string | null;
  /** The usual third-stop time nearest to it, in seconds. A body writes 1/320 as 0.003125 or as 10/3205; both are one step. */
  readonly shutterS: number | null;
  /** Null where the newest measurement does not hold it. */
  readonly subject: Subject | null;
}

export function judgedBikes({
  arrangement,
  judgements,
  pixels,
  metadata,
}: Omit<KitInput, 'spotName'>): readonly JudgedBike[] {
  const exposures = new Map(arrangement.exposures.map((exposure) => [exposure.frameId, exposure]));
  return arrangement.passes.flatMap((pass) =>
    pass.bikes.flatMap((bike): readonly JudgedBike[] => {
      const judged = judgements.get(bikeKeyOf(bike));
      const exposure = exposures.get(bike.frameId);
      const taken = exposure && metadata.get(exposure.mainFile);
      if (taken === undefined || (judged?.kind !== 'good' && judged?.kind !== 'soft')) return [];
      const measured = pixels.get(bike.frameId);
      const shutter = taken.exposure.shutterS;
      return [
        {
          pass,
          bike,
          exposure: exposure!,
          metadata: taken,
          isSharp: judged.kind === 'good',
          lens: taken.lens.model ?? null,
          shutterS: shutter === undefined ? null : nearestMark(SHUTTERS, shutter).exact,
          subject: (measured?.kind === 'measured' && measured.subjects?.[bike.subject]) || null,
        },
      ];
    }),
  );
}

export const evidenceOf = ({ bike, subject }: JudgedBike): EvidenceFrame => ({
  frameId: bike.frameId,
  look: subject?.box ?? null,
});

export const MOST_EVIDENCE = 6;

export const percent = (share: number): number => Math.round(100 * share);

export function groupedBy<T>(all: readonly T[], keyOf: (one: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const group = groups.get(keyOf(one));
    if (group === undefined) groups.set(keyOf(one), [one]);
    else group.push(one);
  }
  return groups;
}

export function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}
