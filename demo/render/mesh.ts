/** Triangles from distances (naive surface nets, S. Gibson 1998) and turned parts. */
import type { Distance } from './distance.js';
import { clamp, cos, hypot, PI, sin, type Vector } from './maths.js';
import type { Group, Part } from './parts.js';

export interface Mesh {
  /** xyz per vertex, metres, in the bike's axes. */
  readonly positions: number[];
  readonly normals: number[];
  /** Two numbers per vertex whose meaning is the part's: for a wheel its angle and radius. */
  readonly coordinates: number[];
  readonly triangles: number[];
  /** Per triangle. */
  readonly parts: Part[];
  readonly groups: Group[];
}

export const emptyMesh = (): Mesh => ({
  positions: [],
  normals: [],
  coordinates: [],
  triangles: [],
  parts: [],
  groups: [],
});

/** Cells per edge of a block that is skipped when the surface cannot be inside. */
const BLOCK = 5;

export interface Surface {
  readonly of: Distance;
  readonly low: Vector;
  readonly high: Vector;
  /** Edge of a grid cell, metres. */
  readonly cell: number;
  readonly part: Part;
  readonly group: Group;
  /** How much faster than 1 m/m the distance may change: blocks are skipped with this in mind. */
  readonly steepness?: number;
}

export function addSurface(mesh: Mesh, surface: Surface): void {
  const grid = sampleNearSurface(surface);
  const vertexOfCell = placeVertices(mesh, surface, grid);
  joinQuads(mesh, surface, grid, vertexOfCell);
}

interface Grid {
  readonly sx: number;
  readonly sxy: number;
  readonly values: Float32Array;
  /** Lowest corner of each block that was sampled. */
  readonly blocks: readonly (readonly [number, number, number])[];
}

function sampleNearSurface({ of, low, high, cell, steepness = 1.4 }: Surface): Grid {
  const cells = (axis: 0 | 1 | 2): number => Math.ceil((high[axis] - low[axis]) / cell / BLOCK) * BLOCK;
  const nx = cells(0);
  const ny = cells(1);
  const nz = cells(2);
  const sx = nx + 1;
  const sxy = sx * (ny + 1);
  const values = new Float32Array(sxy * (nz + 1)).fill(Number.NaN);
  const reach = BLOCK * cell * 0.87 * steepness;
  const blocks: [number, number, number][] = [];
  for (let k = 0; k < nz; k += BLOCK)
    for (let j = 0; j < ny; j += BLOCK)
      for (let i = 0; i < nx; i += BLOCK) {
        const half = BLOCK / 2;
        const centre = of(low[0] + (i + half) * cell, low[1] + (j + half) * cell, low[2] + (k + half) * cell);
        if (Math.abs(centre) <= reach) blocks.push([i, j, k]);
      }
  for (const [i0, j0, k0] of blocks)
    for (let k = k0; k <= k0 + BLOCK; k++)
      for (let j = j0; j <= j0 + BLOCK; j++)
        for (let i = i0; i <= i0 + BLOCK; i++) {
          const o = k * sxy + j * sx + i;
          if (Number.isNaN(values[o])) values[o] = of(low[0] + i * cell, low[1] + j * cell, low[2] + k * cell);
        }
  return { sx, sxy, values, blocks };
}

function placeVertices(mesh: Mesh, surface: Surface, grid: Grid): Map<number, number> {
  const { low, cell } = surface;
  const vertexOfCell = new Map<number, number>();
  for (const [i0, j0, k0] of grid.blocks)
    for (let k = k0; k < k0 + BLOCK; k++)
      for (let j = j0; j < j0 + BLOCK; j++)
        for (let i = i0; i < i0 + BLOCK; i++) {
          const o = k * grid.sxy + j * grid.sx + i;
          const inside = crossingMiddle(grid, o);
          if (inside === null) continue;
          const start: Vector = [
            low[0] + (i + inside[0]) * cell,
            low[1] + (j + inside[1]) * cell,
            low[2] + (k + inside[2]) * cell,
          ];
          vertexOfCell.set(o, mesh.positions.length / 3);
          pushOntoSurface(mesh, surface, start);
        }
  return vertexOfCell;
}

const corner = new Float64Array(8);
/** Mean of the places where the cell's edges cross the surface, in cells; null where none does. */
function crossingMiddle(grid: Grid, o: number): readonly [number, number, number] | null {
  let insideCorners = 0;
  for (let c = 0; c < 8; c++) {
    corner[c] = grid.values[o + (c & 1) + ((c >> 1) & 1) * grid.sx + (c >> 2) * grid.sxy]!;
    if (corner[c]! < 0) insideCorners++;
  }
  if (insideCorners === 0 || insideCorners === 8) return null;
  const sum = [0, 0, 0];
  let crossings = 0;
  for (let c = 0; c < 8; c++)
    for (let axis = 0; axis < 3; axis++) {
      const d = c ^ (1 << axis);
      if (d < c || corner[c]! < 0 === corner[d]! < 0) continue;
      const t = corner[c]! / (corner[c]! - corner[d]!);
      for (let a = 0; a < 3; a++) sum[a]! += ((c >> a) & 1) + (a === axis ? t : 0);
      crossings++;
    }
  return [sum[0]! / crossings, sum[1]! / crossings, sum[2]! / crossings];
}

function pushOntoSurface(mesh: Mesh, { of, cell }: Surface, start: Vector): void {
  const e = cell * 0.3;
  let [x, y, z] = start;
  let gx = 0;
  let gy = 0;
  let gz = 0;
  for (let step = 0; step < 2; step++) {
    gx = (of(x + e, y, z) - of(x - e, y, z)) / (2 * e);
    gy = (of(x, y + e, z) - of(x, y - e, z)) / (2 * e);
    gz = (of(x, y, z + e) - of(x, y, z - e)) / (2 * e);
    if (step === 1) break;
    const s = clamp(of(x, y, z) / (gx * gx + gy * gy + gz * gz || 1), -cell * 0.5, cell * 0.5);
    x -= gx * s;
    y -= gy * s;
    z -= gz * s;
  }
  const l = 1 / (hypot(gx, gy, gz) || 1);
  mesh.positions.push(x, y, z);
  mesh.normals.push(gx * l, gy * l, gz * l);
  mesh.coordinates.push(0, 0);
}

function joinQuads(mesh: Mesh, surface: Surface, grid: Grid, vertexOfCell: ReadonlyMap<number, number>): void {
  const steps = [1, grid.sx, grid.sxy] as const;
  for (const [cell, a] of vertexOfCell)
    for (let axis = 0; axis < 3; axis++) {
      const isInside = grid.values[cell]! < 0;
      if (isInside === grid.values[cell + steps[axis]!]! < 0) continue;
      const u = steps[(axis + 1) % 3]!;
      const w = steps[(axis + 2) % 3]!;
      const b = vertexOfCell.get(cell - u);
      const c = vertexOfCell.get(cell - u - w);
      const d = vertexOfCell.get(cell - w);
      if (b === undefined || c === undefined || d === undefined) continue;
      if (isInside) mesh.triangles.push(a, b, c, a, c, d);
      else mesh.triangles.push(a, c, b, a, d, c);
      mesh.parts.push(surface.part, surface.part);
      mesh.groups.push(surface.group, surface.group);
    }
}

export interface Turned {
  /** On the axle, which runs across the bike. */
  readonly x: number;
  readonly y: number;
  /** `[radius, z]` from one side to the other, metres. */
  readonly profile: readonly (readonly [number, number])[];
  readonly segments: number;
  readonly part: Part;
  readonly group: Group;
}

export function addTurned(mesh: Mesh, { x, y, profile, segments, part, group }: Turned): void {
  const base = mesh.positions.length / 3;
  const count = profile.length;
  for (let s = 0; s <= segments; s++) {
    const angle = (2 * PI * s) / segments;
    const c = cos(angle);
    const n = sin(angle);
    for (let i = 0; i < count; i++) {
      const [r, z] = profile[i]!;
      const before = profile[Math.max(0, i - 1)]!;
      const after = profile[Math.min(count - 1, i + 1)]!;
      const dr = after[0] - before[0];
      const dz = after[1] - before[1];
      const l = hypot(dr, dz) || 1;
      mesh.positions.push(x + c * r, y + n * r, z);
      mesh.normals.push((c * dz) / l, (n * dz) / l, -dr / l);
      mesh.coordinates.push(angle, r);
    }
  }
  for (let s = 0; s < segments; s++)
    for (let i = 0; i + 1 < count; i++) {
      const a = base + s * count + i;
      mesh.triangles.push(a, a + count, a + 1, a + 1, a + count, a + count + 1);
      mesh.parts.push(part, part);
      mesh.groups.push(group, group);
    }
}
