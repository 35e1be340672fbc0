/** A bike with its rider as flat arrays, with ambient occlusion baked per vertex. Built once per shape and pose. */
import { addBodywork } from './bodywork.js';
import { addChassis } from './chassis.js';
import { cos, hypot, sin } from './maths.js';
import { emptyMesh, type Mesh } from './mesh.js';
import { PART } from './parts.js';
import { addRider, POSES, type Pose, type PoseName, type RiderAxes, riderAxes } from './rider.js';
import { SHAPES, type ShapeName } from './shapes.js';

export interface Model {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly coordinates: Float32Array;
  /** 0 fully hidden from the sky, 1 open; per vertex. */
  readonly openness: Float32Array;
  readonly triangles: Uint32Array;
  /** Per triangle. */
  readonly parts: Uint8Array;
  readonly groups: Uint8Array;
  /** Per vertex. */
  readonly vertexGroups: Uint8Array;
  readonly rider: RiderAxes;
}

const bikes = new Map<ShapeName, Mesh>();
const riders = new Map<string, Mesh>();
const models = new Map<string, Model>();

const remembered = <K, V>(store: Map<K, V>, key: K, make: () => V): V => {
  const known = store.get(key);
  if (known !== undefined) return known;
  const made = make();
  store.set(key, made);
  return made;
};

export function modelOf(shape: ShapeName, sits: PoseName | Pose): Model {
  const pose = typeof sits === 'string' ? POSES[sits] : sits;
  const name = JSON.stringify(pose);
  return remembered(models, `${shape}-${name}`, () => {
    const bike = remembered(bikes, shape, () => {
      const mesh = emptyMesh();
      addChassis(mesh, SHAPES[shape]);
      addBodywork(mesh, SHAPES[shape]);
      return mesh;
    });
    const rider = remembered(riders, name, () => {
      const mesh = emptyMesh();
      addRider(mesh, pose);
      return mesh;
    });
    return flatten([bike, rider], riderAxes(pose));
  });
}

function flatten(meshes: readonly Mesh[], rider: RiderAxes): Model {
  const joined = emptyMesh();
  for (const mesh of meshes) {
    const base = joined.positions.length / 3;
    for (const v of mesh.positions) joined.positions.push(v);
    for (const v of mesh.normals) joined.normals.push(v);
    for (const v of mesh.coordinates) joined.coordinates.push(v);
    for (const v of mesh.triangles) joined.triangles.push(v + base);
    for (const v of mesh.parts) joined.parts.push(v);
    for (const v of mesh.groups) joined.groups.push(v);
  }
  const triangles = new Uint32Array(joined.triangles);
  const positions = new Float32Array(joined.positions);
  const normals = new Float32Array(joined.normals);
  faceOutwards(triangles, positions, normals);
  const vertexGroups = new Uint8Array(positions.length / 3);
  joined.groups.forEach((group, t) => {
    for (let k = 0; k < 3; k++) vertexGroups[triangles[t * 3 + k]!] = group;
  });
  const parts = new Uint8Array(joined.parts);
  return {
    positions,
    normals,
    triangles,
    parts,
    vertexGroups,
    rider,
    coordinates: new Float32Array(joined.coordinates),
    groups: new Uint8Array(joined.groups),
    openness: bakeOpenness(positions, normals, triangles, parts),
  };
}

/** Winding such that the geometric normal agrees with the vertex normals; the rasteriser drops the other side. */
function faceOutwards(triangles: Uint32Array, p: Float32Array, n: Float32Array): void {
  for (let t = 0; t < triangles.length; t += 3) {
    const a = triangles[t]! * 3;
    const b = triangles[t + 1]! * 3;
    const c = triangles[t + 2]! * 3;
    const ux = p[b]! - p[a]!;
    const uy = p[b + 1]! - p[a + 1]!;
    const uz = p[b + 2]! - p[a + 2]!;
    const vx = p[c]! - p[a]!;
    const vy = p[c + 1]! - p[a + 1]!;
    const vz = p[c + 2]! - p[a + 2]!;
    const agreement =
      (uy * vz - uz * vy) * (n[a]! + n[b]! + n[c]!) +
      (uz * vx - ux * vz) * (n[a + 1]! + n[b + 1]! + n[c + 1]!) +
      (ux * vy - uy * vx) * (n[a + 2]! + n[b + 2]! + n[c + 2]!);
    if (agreement < 0) {
      const swap = triangles[t + 1]!;
      triangles[t + 1] = triangles[t + 2]!;
      triangles[t + 2] = swap;
    }
  }
}

const VOXEL_M = 0.02;
const RAYS = 36;
const REACH_M = 0.42;

interface Voxels {
  readonly low: readonly [number, number, number];
  readonly size: readonly [number, number, number];
  readonly filled: Uint8Array;
}

function voxelsOf(p: Float32Array, triangles: Uint32Array, parts: Uint8Array): Voxels {
  const low: [number, number, number] = [1e9, 1e9, 1e9];
  const high: [number, number, number] = [-1e9, -1e9, -1e9];
  for (let i = 0; i < p.length; i++) {
    low[i % 3] = Math.min(low[i % 3]!, p[i]! - 0.06);
    high[i % 3] = Math.max(high[i % 3]!, p[i]! + 0.06);
  }
  const size = [0, 1, 2].map((a) => Math.ceil((high[a]! - low[a]!) / VOXEL_M)) as [number, number, number];
  const filled = new Uint8Array(size[0] * size[1] * size[2]);
  const corner = (v: number, axis: number): number => p[v * 3 + axis]!;
  for (let t = 0; t < parts.length; t++) {
    if (parts[t] === PART.screen) continue;
    const v = [triangles[t * 3]!, triangles[t * 3 + 1]!, triangles[t * 3 + 2]!] as const;
    const edge = (i: 0 | 1 | 2, j: 0 | 1 | 2): number =>
      hypot(corner(v[i], 0) - corner(v[j], 0), corner(v[i], 1) - corner(v[j], 1), corner(v[i], 2) - corner(v[j], 2));
    const steps = Math.max(1, Math.ceil(Math.max(edge(0, 1), edge(0, 2)) / (VOXEL_M * 0.7)));
    for (let i = 0; i <= steps; i++)
      for (let j = 0; j <= steps - i; j++) {
        const a = i / steps;
        const b = j / steps;
        const at = [0, 1, 2].map((axis) =>
          Math.floor(
            (corner(v[0], axis) * (1 - a - b) + corner(v[1], axis) * a + corner(v[2], axis) * b - low[axis]!) / VOXEL_M,
          ),
        );
        filled[(at[2]! * size[1] + at[1]!) * size[0] + at[0]!] = 1;
      }
  }
  return { low, size, filled };
}

/** Rays evenly over the sphere (a golden spiral), marched through voxels; near obstacles count more than far ones. */
function bakeOpenness(p: Float32Array, n: Float32Array, triangles: Uint32Array, parts: Uint8Array): Float32Array {
  const { low, size, filled } = voxelsOf(p, triangles, parts);
  const rays = Array.from({ length: RAYS }, (_, i) => {
    const y = 1 - (2 * (i + 0.5)) / RAYS;
    const r = Math.sqrt(1 - y * y);
    return [r * cos(i * 2.399963), y, r * sin(i * 2.399963)] as const;
  });
  const stride = VOXEL_M * 0.95;
  const steps = Math.floor(REACH_M / stride);
  const openness = new Float32Array(p.length / 3);
  for (let v = 0; v < openness.length; v++) {
    const o = v * 3;
    let hidden = 0;
    let all = 0;
    for (const [dx, dy, dz] of rays) {
      const facing = dx * n[o]! + dy * n[o + 1]! + dz * n[o + 2]!;
      if (facing <= 0.05) continue;
      all += facing;
      let x = p[o]! + n[o]! * VOXEL_M * 1.9 - low[0];
      let y = p[o + 1]! + n[o + 1]! * VOXEL_M * 1.9 - low[1];
      let z = p[o + 2]! + n[o + 2]! * VOXEL_M * 1.9 - low[2];
      for (let s = 0; s < steps; s++) {
        if (x < 0 || y < 0 || z < 0) break;
        const i = (x / VOXEL_M) | 0;
        const j = (y / VOXEL_M) | 0;
        const k = (z / VOXEL_M) | 0;
        if (i >= size[0] || j >= size[1] || k >= size[2]) break;
        if (filled[(k * size[1] + j) * size[0] + i]) {
          hidden += facing * (1 - (s / steps) * 0.75);
          break;
        }
        x += dx * stride;
        y += dy * stride;
        z += dz * stride;
      }
    }
    openness[v] = 1 - hidden / (all || 1);
  }
  return openness;
}
