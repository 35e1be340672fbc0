/** A session or a group: its name on its tint, always with an edge; a part of a session has a dashed one. */
import { EDGE, INK, type Pen } from './pen.js';
import type { Tint } from './tints.js';

export interface ChipLook {
  readonly width: number;
  readonly height: number;
  readonly size: number;
  readonly isPart?: boolean;
}

export function drawChip(pen: Pen, name: string, tint: Tint, x: number, y: number, look: ChipLook): void {
  const { width, height, size, isPart = false } = look;
  const edge = isPart ? { ink: INK, width: 1.2, dash: [2, 1.5] as const } : { ink: EDGE, width: 0.75 };
  pen.box(x, y, width, height, { fill: tint.fill, ...edge });
  const text = { face: 'figures', size, ink: tint.letter, align: 'middle', within: width - 2 } as const;
  pen.text(name, x + width / 2, y + height / 2 + size * 0.35, text);
}
