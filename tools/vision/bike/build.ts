/** Other builds of the three drawn bikes: wider, taller, bulged here and there, with cases: no two bikes have one outline. */
import type { Vector } from '../../../demo/render/maths.js';
import { exp } from '../../../demo/render/maths.js';
import type { Model } from '../../../demo/render/model.js';
import type { Random } from '../../../demo/render/noise.js';
import { GROUP, PART, type Part } from '../../../demo/render/parts.js';

interface Bulge {
  readonly at: Vector;
  readonly shift: Vector;
  readonly reach: number;
}

interface Case {
  readonly low: Vector;
  readonly high: Vector;
  readonly part: Part;
}

export interface Build {
  readonly wide: number;
  readonly tall: number;
  readonly bulges: readonly Bulge[];
  readonly cases: readonly Case[];
}

function inventCases(random: Random): readonly Case[] {
  const part = random.oneOf([PART.black, PART.black, PART.tail, PART.fairing, PART.alloy]);
  const cases: Case[] = [];
  if (random.isTrue(0.22)) {
    const [half, long, low] = [random.between(0.12, 0.27), random.between(0.25, 0.42), random.between(0.93, 1.08)];
    cases.push({ part, low: [-0.7 - long, low, -half], high: [-0.7, low + random.between(0.2, 0.4), half] });
  }
  if (random.isTrue(0.14)) {
    const [out, long, low] = [random.between(0.32, 0.46), random.between(0.3, 0.5), random.between(0.42, 0.62)];
    const top = low + random.between(0.25, 0.42);
    cases.push({ part, low: [-0.45 - long, low, 0.17], high: [-0.45, top, out] });
    cases.push({ part, low: [-0.45 - long, low, -out], high: [-0.45, top, -0.17] });
  }
  return [...cases, ...inventMirrors(random), ...inventTag(random)];
}

function inventMirrors(random: Random): readonly Case[] {
  if (random.isTrue(0.65)) return [];
  const [x, y, out] = [random.between(0.35, 0.55), random.between(0.94, 1.12), random.between(0.22, 0.34)];
  const [half, tall] = [random.between(0.05, 0.1), random.between(0.05, 0.12)];
  const part = random.oneOf([PART.black, PART.black, PART.alloy, PART.fairing]);
  return [-1, 1].map((side) => ({
    part,
    low: [x, y, side * out - half],
    high: [x + 0.04, y + tall, side * out + half],
  }));
}

/** A plate behind the rear wheel, as on the road. */
function inventTag(random: Random): readonly Case[] {
  if (random.isTrue(0.5)) return [];
  const [x, y, half] = [random.between(-1.02, -0.85), random.between(0.5, 0.8), random.between(0.08, 0.14)];
  const part = random.oneOf([PART.alloy, PART.rim, PART.black]);
  return [{ part, low: [x, y, -half], high: [x + 0.02, y + random.between(0.1, 0.2), half] }];
}

export const inventBuild = (random: Random): Build => ({
  wide: random.between(0.8, 1.35),
  tall: random.between(0.94, 1.1),
  bulges: Array.from({ length: random.whole(2, 6) }, () => ({
    at: [random.between(-0.9, 0.9), random.between(0.3, 1.1), random.between(0, 0.2)],
    shift: [0.06 * random.normal(), 0.05 * random.normal(), 0.05 * random.normal()],
    reach: random.between(0.12, 0.35),
  })),
  cases: inventCases(random),
});

const made = new WeakMap<Build, Map<Model, Model>>();

/** The model in another build. The rider and the wheels stay as they are; both sides of the bike change alike. */
export function reshaped(model: Model, build: Build): Model {
  const known = made.get(build) ?? new Map<Model, Model>();
  made.set(build, known);
  const before = known.get(model);
  if (before) return before;
  const after = reshape(model, build);
  known.set(model, after);
  return after;
}

function reshape(model: Model, build: Build): Model {
  const positions = model.positions.slice();
  const isBody = new Uint8Array(positions.length / 3);
  model.parts.forEach((part, t) => {
    if (part >= PART.suit || model.groups[t] !== GROUP.body) return;
    for (let k = 0; k < 3; k++) isBody[model.triangles[t * 3 + k]!] = 1;
  });
  for (let v = 0; v < isBody.length; v++) if (isBody[v]) move(positions, 3 * v, build);
  return withCases({ ...model, positions }, build.cases);
}

function move(positions: Float32Array, at: number, { wide, tall, bulges }: Build): void {
  const [x, y, z] = [positions[at]!, positions[at + 1]!, positions[at + 2]!];
  const side = z < 0 ? -1 : 1;
  let [toX, toY, toZ] = [x, y > 0.5 ? 0.5 + (y - 0.5) * tall : y, z * wide];
  for (const { at: middle, shift, reach } of bulges) {
    const away = (x - middle[0]) ** 2 + (y - middle[1]) ** 2 + (Math.abs(z) - middle[2]) ** 2;
    const share = exp(-away / (2 * reach * reach));
    toX += share * shift[0];
    toY += share * shift[1];
    toZ += side * share * shift[2] * Math.min(1, Math.abs(z) / 0.05);
  }
  positions[at] = toX;
  positions[at + 1] = toY;
  positions[at + 2] = toZ;
}

/** Two triangles a face, the normals straight out. */
function withCases(model: Model, cases: readonly Case[]): Model {
  if (cases.length === 0) return model;
  const positions: number[] = [];
  const normals: number[] = [];
  const triangles: number[] = [];
  const parts: number[] = [];
  const before = model.positions.length / 3;
  for (const { low, high, part } of cases)
    for (let axis = 0; axis < 3; axis++)
      for (const end of [0, 1]) {
        const first = before + positions.length / 3;
        const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
        for (const [a, b] of [
          [0, 0],
          [1, 0],
          [1, 1],
          [0, 1],
        ] as const) {
          const corner = [0, 0, 0];
          corner[axis] = end ? high[axis]! : low[axis]!;
          corner[u] = a ? high[u]! : low[u]!;
          corner[v] = b ? high[v]! : low[v]!;
          positions.push(...corner);
          for (let k = 0; k < 3; k++) normals.push(k === axis ? (end ? 1 : -1) : 0);
        }
        const corners = end ? [0, 1, 2, 0, 2, 3] : [0, 2, 1, 0, 3, 2];
        for (const corner of corners) triangles.push(first + corner);
        parts.push(part, part);
      }
  const vertices = positions.length / 3;
  return {
    ...model,
    positions: joined(model.positions, positions, Float32Array),
    normals: joined(model.normals, normals, Float32Array),
    coordinates: joined(model.coordinates, Array<number>(2 * vertices).fill(0), Float32Array),
    openness: joined(model.openness, Array<number>(vertices).fill(0.85), Float32Array),
    triangles: joined(model.triangles, triangles, Uint32Array),
    parts: joined(model.parts, parts, Uint8Array),
    groups: joined(model.groups, Array<number>(parts.length).fill(GROUP.body), Uint8Array),
    vertexGroups: joined(model.vertexGroups, Array<number>(vertices).fill(GROUP.body), Uint8Array),
  };
}

function joined<T extends Float32Array | Uint32Array | Uint8Array>(
  first: T,
  second: readonly number[],
  Kind: new (length: number) => T,
): T {
  const out = new Kind(first.length + second.length);
  out.set(first);
  out.set(second, first.length);
  return out;
}
