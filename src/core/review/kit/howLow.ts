/**
 * How low this photographer can go, of each lens at each spot: rule PL819. Groups are taken together, or there would be too few
 * frames to say anything; the table of `sharpAtShutter` has them apart.
 */
import type { SpotId } from '../../ids.js';
import { shutterName } from '../../numeric/exposure.js';
import { type Share, shareOf } from '../../numeric/wilson.js';
import { evidenceOf, groupedBy, type JudgedBike, MOST_EVIDENCE, percent } from './judgedBikes.js';
import type { HowLow } from './types.js';

/** Fewer frames of one shutter say nothing. */
const LEAST_FRAMES = 5;
/** A shutter holds where at least so many come out sharp, by the lower end of the range (own convention: a bike goes by in bursts). */
const HOLDS_FROM = 0.5;

interface Tried {
  readonly shutterS: number;
  readonly bikes: readonly JudgedBike[];
  readonly sharp: number;
  readonly share: Share;
}

export function howLow(bikes: readonly JudgedBike[], spotName: (spot: SpotId) => string): readonly HowLow[] {
  const timed = bikes.filter(({ shutterS }) => shutterS !== null);
  return [...groupedBy(timed, ({ lens, pass }) => JSON.stringify([lens, pass.spot])).values()]
    .flatMap((together) => lowestOf(together, spotName))
    .sort((a, b) => a.sentence.localeCompare(b.sentence, 'en'));
}

function lowestOf(bikes: readonly JudgedBike[], spotName: (spot: SpotId) => string): readonly HowLow[] {
  const { lens, pass } = bikes[0]!;
  const tried = triedOf(bikes);
  if (tried.length === 0) return [];
  const holds = tried.filter(({ share }) => share.from >= HOLDS_FROM);
  const lowest = holds.reduce<Tried | null>((a, b) => (a === null || b.shutterS > a.shutterS ? b : a), null);
  const told = lowest ?? tried.reduce((a, b) => (b.share.from > a.share.from ? b : a));
  const slower = tried.find(({ shutterS }) => lowest !== null && shutterS > lowest.shutterS) ?? null;
  const where = [pass.spot === null ? null : spotName(pass.spot), lens].filter((part) => part !== null).join(', ');
  return [
    {
      kind: 'measurement',
      lens,
      spot: pass.spot,
      shutterS: lowest?.shutterS ?? null,
      sharp: told.sharp,
      frames: told.bikes.length,
      share: told.share,
      evidence: [...(slower?.bikes ?? []), ...told.bikes]
        .filter(({ isSharp }) => !isSharp)
        .slice(0, MOST_EVIDENCE)
        .map(evidenceOf),
      sentence: `${where === '' ? 'No lens or spot known' : where}: ${sentenceOf(lowest, told, slower)}`,
    },
  ];
}

/** From quick to slow. */
const triedOf = (bikes: readonly JudgedBike[]): readonly Tried[] =>
  [...groupedBy(bikes, ({ shutterS }) => String(shutterS)).values()]
    .filter((frames) => frames.length >= LEAST_FRAMES)
    .flatMap((frames): readonly Tried[] => {
      const sharp = frames.filter(({ isSharp }) => isSharp).length;
      const share = shareOf(sharp, frames.length);
      return share === null ? [] : [{ shutterS: frames[0]!.shutterS!, bikes: frames, sharp, share }];
    })
    .sort((a, b) => a.shutterS - b.shutterS);

function sentenceOf(lowest: Tried | null, told: Tried, slower: Tried | null): string {
  const counted = ({ shutterS, sharp, bikes, share }: Tried) =>
    `${shutterName(shutterS)}, ${sharp} of ${bikes.length} sharp (${percent(share.from)}–${percent(share.to)} % to be expected)`;
  if (lowest === null) return `no shutter holds for half of the frames yet; best was ${counted(told)}.`;
  return slower === null
    ? `holds down to ${counted(lowest)}; slower was not tried often enough to say.`
    : `holds down to ${counted(lowest)}; below that ${counted(slower)}.`;
}
