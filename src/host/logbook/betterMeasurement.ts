/** Which of two measurements of one thing counts: the same answer on every laptop, whatever order they were read in. */
import type { JudgedLine } from '../../core/judge/types.js';
import { canonicalText } from '../../core/log/index.js';
import type { MeasuredLine } from '../../core/measure/types.js';

type MetadataLine = Extract<MeasuredLine, { kind: 'metadata' }>;
type PixelsLine = Extract<MeasuredLine, { kind: 'pixels' }>;

/** Full resolution beats a preview, and anything beats having failed. */
function tierRank({ pixels }: PixelsLine): number {
  if (pixels.kind === 'unmeasurable') return 0;
  return pixels.tier === 'preview' ? 1 : 2;
}

/** Of two equal in rank the earlier counts: a later line with the same key and version changes nothing. */
function earlier<Line extends MeasuredLine | JudgedLine>(a: Line, b: Line): Line {
  if (a.at !== b.at) return a.at < b.at ? a : b;
  return canonicalText(a) <= canonicalText(b) ? a : b;
}

export const betterMetadata = (a: MetadataLine, b: MetadataLine): MetadataLine =>
  a.metadata.v === b.metadata.v ? earlier(a, b) : a.metadata.v > b.metadata.v ? a : b;

export function betterPixels(a: PixelsLine, b: PixelsLine): PixelsLine {
  if (a.pixels.v !== b.pixels.v) return a.pixels.v > b.pixels.v ? a : b;
  const difference = tierRank(a) - tierRank(b);
  return difference === 0 ? earlier(a, b) : difference > 0 ? a : b;
}

export function betterJudged(a: JudgedLine, b: JudgedLine): JudgedLine {
  if (a.bike.v !== b.bike.v) return a.bike.v > b.bike.v ? a : b;
  if (a.bike.kind === b.bike.kind) return earlier(a, b);
  return a.bike.kind === 'judged' ? a : b;
}
