/** The wheel of a rider's day: one arc a spot, filled where there is a picture, outlined where there is none. */
import { xml } from '../core/finish/index.js';
import type { Tongue } from './words/index.js';

export interface Arc {
  readonly name: string;
  readonly number: number;
  readonly pictures: number;
}

const SIZE = 132;
const OUTER = 48;
const THICKNESS = OUTER * 2 * 0.145;
const GAP_DEG = 5;

/** An SVG with its meaning in words; arcs of 360°/n, the first centred at twelve. */
export function wheelOf(tongue: Tongue, arcs: readonly Arc[], total: number): string {
  const spots = arcs.map(({ name, pictures }) => `${name}: ${pictures === 0 ? tongue.say('none') : pictures}`);
  const label = tongue.list([tongue.say('picturesCounted', { n: total }), ...spots]);
  const middle = SIZE / 2;
  const drawn = arcs.map((arc, i) => arcOf(arc, i, arcs.length)).join('');
  return [
    `<svg class="wheel" viewBox="0 0 ${SIZE} ${SIZE}" width="${SIZE}" height="${SIZE}" role="img" aria-label="${xml(label)}">`,
    `<g transform="translate(${middle} ${middle})" text-anchor="middle" fill="currentColor">${drawn}`,
    `<text y="9" font-size="26" font-weight="640">${total}</text></g></svg>`,
  ].join('');
}

function arcOf(arc: Arc, index: number, of: number): string {
  const span = 360 / of;
  const gap = of === 1 ? 0.01 : GAP_DEG;
  const from = index * span - span / 2 + gap / 2;
  const path = ringPart(from, from + span - gap);
  const [x, y] = at(index * span, OUTER + 10);
  return `<path d="${path}"${arc.pictures > 0 ? '' : ' class="none"'}/><text x="${x}" y="${round(y + 4)}" class="spot">${arc.number}</text>`;
}

/** Degrees clockwise from twelve. */
function at(degrees: number, radius: number): readonly [number, number] {
  const turn = (degrees * Math.PI) / 180;
  return [round(Math.sin(turn) * radius), round(-Math.cos(turn) * radius)];
}

function ringPart(from: number, to: number): string {
  const inner = OUTER - THICKNESS;
  const large = to - from > 180 ? 1 : 0;
  const point = (degrees: number, radius: number) => at(degrees, radius).join(' ');
  return `M${point(from, OUTER)}A${OUTER} ${OUTER} 0 ${large} 1 ${point(to, OUTER)}L${point(to, inner)}A${inner} ${inner} 0 ${large} 0 ${point(from, inner)}Z`;
}

const round = (value: number): number => Math.round(value * 100) / 100;
