/**
 * How low this photographer can go, and whose highlights clip: rules PL810–PL813. Sharp is what `cover` calls good among bikes that are
 * whole and could be compared; cut bikes say nothing of a shutter. Shadows, focus and shimmer are not told here: a frame's measurement
 * holds neither blocked shadows nor how sharp the ground before and behind the bike is.
 */
import type { Arrangement } from '../../arrange/types.js';
import { bikeKeyOf, type Judgements } from '../../cover/goodFrames.js';
import type { BodyKey, FrameId, SpotId } from '../../ids.js';
import type { FileMetadata, FrameMeasurement } from '../../measure/types.js';
import { nearestMark, SHUTTERS, shutterName } from '../../numeric/exposure.js';
import { shareOf } from '../../numeric/wilson.js';
import { bodyName } from './dustWords.js';
import type { ClippedOfBody, KitRecords, SharpAtShutter } from './types.js';

export interface KitInput {
  readonly arrangement: Arrangement;
  readonly judgements: Judgements;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly metadata: ReadonlyMap<string, FileMetadata>;
}

export const kitRecords = (input: KitInput): KitRecords => ({
  sharpness: sharpnessOf(input),
  clipped: clippedOf(input),
});

/** Fewer say nothing worth a line. */
const LEAST_FRAMES = 5;
const MOST_EVIDENCE = 6;

interface Tried {
  readonly lens: string | null;
  readonly spot: SpotId | null;
  readonly group: string | null;
  readonly shutterS: number;
  sharp: number;
  readonly frames: FrameId[];
  readonly soft: FrameId[];
}

function sharpnessOf({ arrangement, judgements, metadata }: KitInput): readonly SharpAtShutter[] {
  const exposures = new Map(arrangement.exposures.map((exposure) => [exposure.frameId, exposure]));
  const tried = new Map<string, Tried>();
  for (const pass of arrangement.passes)
    for (const bike of pass.bikes) {
      const judged = judgements.get(bikeKeyOf(bike));
      const exposure = exposures.get(bike.frameId);
      const taken = exposure && metadata.get(exposure.mainFile);
      const shutter = taken?.exposure.shutterS;
      if (shutter === undefined || (judged?.kind !== 'good' && judged?.kind !== 'soft')) continue;
      const at = {
        lens: taken?.lens.model ?? null,
        spot: pass.spot,
        group: arrangement.sessions[pass.session]?.group ?? null,
        // A body writes 1/320 as 0.003125 or as 10/3205; both are one step of a third.
        shutterS: nearestMark(SHUTTERS, shutter).exact,
      };
      const key = JSON.stringify(at);
      const one = tried.get(key) ?? { ...at, sharp: 0, frames: [], soft: [] };
      tried.set(key, one);
      one.frames.push(bike.frameId);
      if (judged.kind === 'good') one.sharp += 1;
      else one.soft.push(bike.frameId);
    }
  return [...tried.values()]
    .filter(({ frames }) => frames.length >= LEAST_FRAMES)
    .flatMap(asSharpness)
    .sort((a, b) => a.shutterS - b.shutterS || a.sentence.localeCompare(b.sentence, 'en'));
}

const percent = (share: number): number => Math.round(100 * share);

function asSharpness({ lens, spot, group, shutterS, sharp, frames, soft }: Tried): readonly SharpAtShutter[] {
  const share = shareOf(sharp, frames.length);
  if (share === null) return [];
  const where = [lens, spot, group].filter((part) => part !== null).join(', ');
  return [
    {
      kind: 'measurement',
      lens,
      spot,
      group,
      shutterS,
      sharp,
      frames: frames.length,
      share,
      evidence: soft.slice(0, MOST_EVIDENCE),
      sentence: `About ${shutterName(shutterS)}${where === '' ? '' : ` (${where})`}: ${sharp} of ${frames.length} sharp, ${percent(share.from)}–${percent(share.to)} % to be expected.`,
    },
  ];
}

/** Share of the picture that is clipped, from where on a frame counts (no source). */
const CLIPPED_FROM = 0.02;

function clippedOf({ arrangement, pixels }: KitInput): readonly ClippedOfBody[] {
  const bodies = new Map<BodyKey, { frames: number; clipped: FrameId[] }>();
  for (const { body, frameId, role } of arrangement.exposures) {
    const measured = pixels.get(frameId);
    if (role !== 'bike' || measured?.kind !== 'measured') continue;
    const one = bodies.get(body) ?? { frames: 0, clipped: [] };
    bodies.set(body, one);
    one.frames += 1;
    if (measured.clippedShare >= CLIPPED_FROM) one.clipped.push(frameId);
  }
  return [...bodies].flatMap(([body, { frames, clipped }]): readonly ClippedOfBody[] => {
    const share = shareOf(clipped.length, frames);
    if (share === null) return [];
    return [
      {
        kind: 'measurement',
        body,
        frames,
        clipped: clipped.length,
        share,
        evidence: clipped.slice(0, MOST_EVIDENCE),
        sentence: `${bodyName(body)}: more than ${percent(CLIPPED_FROM)} % of the picture clipped in ${clipped.length} of ${frames} frames with a bike.`,
      },
    ];
  });
}
