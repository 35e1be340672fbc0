/**
 * How wide edges are drawn: from a tenth to nine tenths of the step, in pixels, across upright and across level edges (the run
 * between the extremes on both sides of an edge: P. Marziliano et al., A no-reference perceptual blur metric, ICIP 2002; tenths in
 * place of the extremes, which grain moves). The wider of the two directions counts, for movement draws out one of them.
 * A step blurred by a Gaussian of σ px comes out 2.563 σ wide (quantiles of the normal distribution), for σ from 0.8 to 6 within a fifth.
 */
import type { GreyImage } from '../measure/images.js';
import { noiseVariance } from '../measure/measureSharpness.js';

/** Weaker steps are shading or grain. */
const LEAST_STEP = 40;
const LEAST_STEP_TO_NOISE = 8;
/** A slope longer than this to either side is no edge. */
const LONGEST = 40;
/** Fewer edges in a direction say nothing about it. */
const LEAST_EDGES = 24;
/** Of the edges, the share that stands out most. */
const CLEAREST = 0.5;
const [FROM, TO] = [0.1, 0.9] as const;

interface Edge {
  readonly step: number;
  readonly width: number;
}

/** Null where neither direction has edges enough. @param isPart which pixels are looked at */
export function edgeWidth(grey: GreyImage, isPart: (x: number, y: number) => boolean): number | null {
  const least = Math.max(LEAST_STEP, LEAST_STEP_TO_NOISE * Math.sqrt(noiseVariance(grey)));
  const across: Edge[] = [];
  const down: Edge[] = [];
  for (let y = 1; y < grey.height - 1; y += 1)
    for (let x = 1; x < grey.width - 1; x += 1) {
      if (!isPart(x, y)) continue;
      const at = y * grey.width + x;
      const level = edgeAt(grey.data, at, 1, x, grey.width, least);
      if (level) across.push(level);
      const upright = edgeAt(grey.data, at, grey.width, y, grey.height, least);
      if (upright) down.push(upright);
    }
  const widths = [across, down].flatMap((edges) => (edges.length < LEAST_EDGES ? [] : [middleOfClearest(edges)]));
  return widths.length === 0 ? null : Math.max(...widths);
}

/** The edge whose steepest place is this pixel, along one axis. @param place on that axis, of `length` */
function edgeAt(
  data: GreyImage['data'],
  at: number,
  step: number,
  place: number,
  length: number,
  least: number,
): Edge | null {
  const slope = data[at + step]! - data[at - step]!;
  if (slope === 0) return null;
  const sign = Math.sign(slope);
  const steepness = (offset: number): number => {
    const there = place + offset;
    return there < 1 || there > length - 2
      ? 0
      : sign * (data[at + (offset + 1) * step]! - data[at + (offset - 1) * step]!);
  };
  // Of equally steep neighbours one alone is the edge's middle.
  if (steepness(-1) >= steepness(0) || steepness(1) > steepness(0)) return null;
  const reach = (towards: 1 | -1): number => {
    let offset = 0;
    while (offset < LONGEST) {
      const next = place + towards * (offset + 1);
      if (next < 0 || next >= length) break;
      const rise = sign * towards * (data[at + towards * (offset + 1) * step]! - data[at + towards * offset * step]!);
      if (rise <= 0) break;
      offset += 1;
    }
    return offset;
  };
  const [before, after] = [reach(-1), reach(1)];
  if (before === LONGEST || after === LONGEST) return null;
  const [low, high] = [data[at - before * step]!, data[at + after * step]!];
  const height = sign * (high - low);
  if (height < least) return null;
  const crossing = (share: number): number => {
    const wanted = low + sign * share * height;
    for (let offset = -before; offset < after; offset += 1) {
      const [here, next] = [data[at + offset * step]!, data[at + (offset + 1) * step]!];
      if (sign * (next - wanted) >= 0) return offset + (wanted - here) / (next - here || 1);
    }
    return after;
  };
  return { step: height, width: crossing(TO) - crossing(FROM) };
}

function middleOfClearest(edges: readonly Edge[]): number {
  const clearest = [...edges].sort((a, b) => b.step - a.step).slice(0, Math.ceil(CLEAREST * edges.length));
  const widths = clearest.map(({ width }) => width).sort((a, b) => a - b);
  return widths[Math.floor(widths.length / 2)]!;
}
