/**
 * The coverage wheel's geometry, as LOOKS has it: arcs of 360°/n, the first centred at twelve, clockwise.
 * Angles are degrees clockwise from twelve; lengths are px of a wheel `size` px across, centred on (0, 0), y down.
 * Gaps are of equal width from rim to hub, so an arc's inner edge is cut a little more than its outer one.
 */

export type ArcState = 'good' | 'unsure' | 'missed' | 'to-come';

export interface WheelMeasures {
  readonly outerPx: number;
  readonly thicknessPx: number;
  readonly gapPx: number;
  readonly slitPitchPx: number;
  readonly outlinePx: number;
}

/** Above this the arcs would be too short to tell apart. */
export const MOST_ARCS = 10;
/** Numbers of the spots stand outside from this size. */
export const NUMBERS_FROM_PX = 84;
const LEAST_SLITS = 3;

const thicknessOf = (size: number): number => {
  if (size <= 40) return Math.max(4.3, size * 0.19);
  return size <= 64 ? size * 0.17 : size * 0.145;
};
const gapOf = (size: number): number => (size <= 40 ? 1.9 : size <= NUMBERS_FROM_PX ? 2.6 : size * 0.03);

export const measuresOf = (size: number): WheelMeasures => ({
  outerPx: size / 2,
  thicknessPx: thicknessOf(size),
  gapPx: gapOf(size),
  slitPitchPx: Math.max(2.35, size * 0.034),
  outlinePx: size <= 64 ? 1.1 : 1.3,
});

export interface Span {
  readonly fromDeg: number;
  readonly toDeg: number;
}

/** The whole sector of arc `index` of `count`, gaps not yet taken off. */
export const sectorOf = (index: number, count: number): Span => {
  const widthDeg = 360 / count;
  return { fromDeg: (index - 0.5) * widthDeg, toDeg: (index + 0.5) * widthDeg };
};

const toDegrees = (radians: number): number => (radians * 180) / Math.PI;

/** A sector less half a gap at each end, at one radius. */
export const trimmed = ({ fromDeg, toDeg }: Span, radiusPx: number, gapPx: number): Span => {
  const cutDeg = toDegrees(Math.asin(Math.min(1, gapPx / 2 / radiusPx)));
  return { fromDeg: fromDeg + cutDeg, toDeg: toDeg - cutDeg };
};

/** `[x, y]` on a circle around the hub. */
export const pointAt = (angleDeg: number, radiusPx: number): readonly [number, number] => {
  const angle = (angleDeg * Math.PI) / 180;
  return [radiusPx * Math.sin(angle), -radiusPx * Math.cos(angle)];
};

const written = (value: number): string => String(Math.round(value * 100) / 100);
const at = (angleDeg: number, radiusPx: number): string => pointAt(angleDeg, radiusPx).map(written).join(' ');

/** A closed piece of ring between two radii, with straight ends. */
export function ringPath(outer: Span, outerPx: number, inner: Span, innerPx: number): string {
  const large = (span: Span) => (span.toDeg - span.fromDeg > 180 ? 1 : 0);
  return [
    `M${at(outer.fromDeg, outerPx)}`,
    `A${written(outerPx)} ${written(outerPx)} 0 ${large(outer)} 1 ${at(outer.toDeg, outerPx)}`,
    `L${at(inner.toDeg, innerPx)}`,
    `A${written(innerPx)} ${written(innerPx)} 0 ${large(inner)} 0 ${at(inner.fromDeg, innerPx)}Z`,
  ].join('');
}

/** Bars of a slit arc: radial, each half a pitch wide at mid-radius, at least three. */
export function slitsOf(sector: Span, measures: WheelMeasures): readonly Span[] {
  const midPx = measures.outerPx - measures.thicknessPx / 2;
  const span = trimmed(sector, midPx, measures.gapPx);
  const lengthPx = ((span.toDeg - span.fromDeg) * Math.PI * midPx) / 180;
  const count = Math.max(LEAST_SLITS, Math.round(lengthPx / measures.slitPitchPx + 0.5));
  // Bars and the spaces between them are equally wide: n bars, n − 1 spaces.
  const barDeg = (span.toDeg - span.fromDeg) / (2 * count - 1);
  return Array.from({ length: count }, (_, i) => {
    const fromDeg = span.fromDeg + 2 * i * barDeg;
    return { fromDeg, toDeg: fromDeg + barDeg };
  });
}

export interface DrawnArc {
  readonly state: ArcState;
  /** Filled for good, slit for unsure, outlined for missed, a line at mid-radius for to come. */
  readonly path: string;
  readonly spoke: string | null;
}

const outlineOf = (sector: Span, measures: WheelMeasures, innerPx: number): string => {
  const inset = measures.outlinePx / 2;
  const gap = measures.gapPx + measures.outlinePx;
  const [outer, inner] = [measures.outerPx - inset, innerPx + inset];
  return ringPath(trimmed(sector, outer, gap), outer, trimmed(sector, inner, gap), inner);
};

const lineOf = (sector: Span, measures: WheelMeasures): string => {
  const midPx = measures.outerPx - measures.thicknessPx / 2;
  const { fromDeg, toDeg } = trimmed(sector, midPx, measures.gapPx);
  return `M${at(fromDeg, midPx)}A${written(midPx)} ${written(midPx)} 0 ${toDeg - fromDeg > 180 ? 1 : 0} 1 ${at(toDeg, midPx)}`;
};

/** The drawing of one arc. A guess is half as thick, from the rim inwards; a person's word is a spoke from the hub side. */
export function drawArc(
  arc: { readonly state: ArcState; readonly isGuess: boolean; readonly isSaid: boolean },
  index: number,
  count: number,
  size: number,
): DrawnArc {
  const measures = measuresOf(size);
  const sector = sectorOf(index, count);
  const innerPx = measures.outerPx - measures.thicknessPx * (arc.isGuess ? 0.5 : 1);
  const middleDeg = (sector.fromDeg + sector.toDeg) / 2;
  const hubSidePx = measures.outerPx - measures.thicknessPx;
  const spoke = arc.isSaid
    ? `M${at(middleDeg, innerPx)}L${at(middleDeg, hubSidePx - measures.thicknessPx * 0.55)}`
    : null;
  switch (arc.state) {
    case 'good': {
      const { outerPx, gapPx } = measures;
      return {
        state: 'good',
        spoke,
        path: ringPath(trimmed(sector, outerPx, gapPx), outerPx, trimmed(sector, innerPx, gapPx), innerPx),
      };
    }
    case 'unsure':
      return {
        state: 'unsure',
        spoke,
        path: slitsOf(sector, measures)
          .map((bar) => ringPath(bar, measures.outerPx, bar, innerPx))
          .join(''),
      };
    case 'missed':
      return { state: 'missed', spoke, path: outlineOf(sector, measures, innerPx) };
    case 'to-come':
      return { state: 'to-come', spoke, path: lineOf(sector, measures) };
  }
}
