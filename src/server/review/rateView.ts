/** One hit rate as the sheet shows it. */
import { shutterName } from '../../core/numeric/exposure.js';
import type { HitRate, Taken } from '../../core/review/debrief/index.js';
import type { EvidenceFrame } from '../../core/review/kit/index.js';
import { unitIntervalOf } from '../../core/units.js';
import type { GroupKeyView, PictureView } from '../types.js';
import { aspectOf, type Known, metadataOf } from '../views/known.js';
import { counted } from '../views/words.js';
import type { RangeView, RatesView, RateView } from './types.js';

export const rangeView = ({ share, hits, bikes, passes, isFew }: Omit<HitRate, 'of'>): RangeView => ({
  share: unitIntervalOf(share.share),
  from: unitIntervalOf(share.from),
  to: unitIntervalOf(share.to),
  hits,
  bikes,
  passes,
  isFew,
});

export function rateView(
  known: Known,
  rate: Omit<HitRate, 'of'>,
  label: string,
  group: GroupKeyView | null = null,
): RateView {
  const { soft, cut } = rate;
  const missed = [soft > 0 ? `${soft} soft` : null, cut > 0 ? `${cut} cut` : null].filter((part) => part !== null);
  return {
    ...rangeView(rate),
    label,
    group,
    missedWords: missed.length === 0 ? null : missed.join(', '),
    missed: rate.evidence.map((frame) => evidenceView(known, frame)),
  };
}

/** Rates by one thing; the bikes of which it is not known are told of. */
export function ratesView(
  known: Known,
  title: string,
  rates: readonly HitRate[],
  { all, what }: { readonly all: number; readonly what: string },
): RatesView {
  return {
    title,
    rows: rates
      .map((rate) => rateView(known, rate, labelOf(known, rate.of), groupOf(known, rate.of)))
      .sort(asThePlanHasThem),
    without: withoutWords(all - bikesIn(rates), what),
  };
}

/** Groups from slow to fast, spots by number, lenses from short to long. */
const asThePlanHasThem = (a: RateView, b: RateView): number =>
  a.group !== null && b.group !== null
    ? a.group.tint - b.group.tint
    : a.label.localeCompare(b.label, 'en', { numeric: true });

export const bikesIn = (rates: readonly Pick<HitRate, 'bikes'>[]): number =>
  rates.reduce((sum, { bikes }) => sum + bikes, 0);

export const withoutWords = (bikes: number, what: string): string | null =>
  bikes <= 0 ? null : `Of ${counted(bikes, 'bike')} ${what} not known: in no row here.`;

export const evidenceView = (known: Known, { frameId, look }: EvidenceFrame): PictureView => ({
  frameId,
  box: look,
  aspect: aspectOf(metadataOf(known, frameId)),
});

export const groupOf = ({ groupByKey }: Known, { group }: Taken): GroupKeyView | null =>
  (group !== undefined && groupByKey.get(group)) || null;

/** `3 Gannet, Novice, about 400 mm, 1/500`. */
export function labelOf(known: Known, taken: Taken): string {
  const { spot, group, focalMm, shutterS } = taken;
  const parts = [
    spot === undefined ? undefined : numberedSpot(known, spot),
    group === undefined ? undefined : (groupOf(known, taken)?.name ?? group),
    focalMm === undefined ? undefined : `about ${focalMm} mm`,
    shutterS === undefined ? undefined : shutterName(shutterS),
  ].filter((part) => part !== undefined);
  return parts.length === 0 ? 'all of them' : parts.join(', ');
}

export function numberedSpot({ spotById }: Known, id: NonNullable<Taken['spot']>): string {
  const spot = spotById.get(id);
  return spot === undefined ? id : `${spot.number} ${spot.name}`;
}
