/** Bikes as the kit's records see them, for tests. */
import type { FrameId } from '../../ids.js';
import type { GroundSharpness, Sharpness } from '../../measure/types.js';
import type { JudgedBike } from './judgedBikes.js';

export interface BikeSpec {
  readonly pass: number;
  readonly isSharp?: boolean;
  readonly sharpness?: Partial<Sharpness>;
  readonly ground?: GroundSharpness;
  /** Of the picture's height. */
  readonly height?: number;
  readonly hour?: number;
  readonly spot?: string;
  readonly focal35Mm?: number;
}

const HOUR_MS = 3_600_000;

export const judgedBike = (spec: BikeSpec, at: number): JudgedBike =>
  ({
    pass: { index: spec.pass, session: 0, spot: spec.spot ?? 'beacon' },
    bike: { frameId: `f${at}` as FrameId, subject: 0 },
    exposure: { body: 'Maker|M1|7', wall: (spec.hour ?? 10) * HOUR_MS },
    metadata: { lens: { focalLength35Mm: spec.focal35Mm ?? 400 }, widthPx: 6000, heightPx: 4000 },
    isSharp: spec.isSharp ?? true,
    lens: 'Long',
    shutterS: 1 / 500,
    subject: {
      box: [0.3, 0.3, 0.4, spec.height ?? 0.4],
      ...(spec.ground && { ground: spec.ground }),
      sharpness: {
        ...{ alongX: 0.5, alongY: 0.5, alongDown: 0.5, alongUp: 0.5, overall: 0.5, scalePx: 1620 },
        ...spec.sharpness,
      },
    },
  }) as unknown as JudgedBike;

/** Words that would tell somebody what to do; sentences say what was seen. */
export const COMMANDS =
  /\b(go|try|use|look|check|avoid|should|must|take|get|ride|move|stand|choose|keep|next time|better to)\b/i;
