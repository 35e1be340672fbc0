/** How low this photographer can go: rules PL810–PL812. Sharp is what `cover` calls good; cut bikes say nothing of a shutter. */
import type { SpotId } from '../../ids.js';
import { shutterName } from '../../numeric/exposure.js';
import { shareOf } from '../../numeric/wilson.js';
import { evidenceOf, groupedBy, type JudgedBike, MOST_EVIDENCE, percent } from './judgedBikes.js';
import type { SharpAtShutter } from './types.js';

/** Fewer say nothing worth a line. */
const LEAST_FRAMES = 5;

/** `groupOf`: of a session. */
export function sharpAtShutter(
  bikes: readonly JudgedBike[],
  groupOf: (session: number) => string | null,
  spotName: (spot: SpotId) => string,
): readonly SharpAtShutter[] {
  const timed = bikes.filter(({ shutterS }) => shutterS !== null);
  const tried = groupedBy(timed, ({ lens, pass, shutterS }) =>
    JSON.stringify([lens, pass.spot, groupOf(pass.session), shutterS]),
  );
  return [...tried.values()]
    .filter((frames) => frames.length >= LEAST_FRAMES)
    .flatMap((frames) => recordOf(frames, groupOf(frames[0]!.pass.session), spotName))
    .sort((a, b) => a.shutterS - b.shutterS || a.sentence.localeCompare(b.sentence, 'en'));
}

function recordOf(
  bikes: readonly JudgedBike[],
  group: string | null,
  spotName: (spot: SpotId) => string,
): readonly SharpAtShutter[] {
  const { lens, pass, shutterS } = bikes[0]!;
  const soft = bikes.filter(({ isSharp }) => !isSharp);
  const [frames, sharp] = [bikes.length, bikes.length - soft.length];
  const share = shareOf(sharp, frames);
  if (share === null || shutterS === null) return [];
  const where = [lens, pass.spot && spotName(pass.spot), group].filter((part) => part !== null).join(', ');
  return [
    {
      kind: 'measurement',
      lens,
      spot: pass.spot,
      group,
      shutterS,
      sharp,
      frames,
      share,
      evidence: soft.slice(0, MOST_EVIDENCE).map(evidenceOf),
      sentence: `About ${shutterName(shutterS)}${where === '' ? '' : ` (${where})`}: ${sharp} of ${frames} sharp, ${percent(share.from)}–${percent(share.to)} % to be expected.`,
    },
  ];
}
