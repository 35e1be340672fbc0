import { averageLinkage } from '../../numeric/cluster.js';
import type { Bikes } from '../bikes.js';
import { dotRows } from '../descriptors.js';
import type { RawPass } from '../passes.js';
import { type ApartRule, cannotBeOne } from './cannotBeOne.js';
import { passDescriptors } from './passDescriptors.js';

/** Number of each pass's rider, from 0. */
export function clusterPasses(
  passes: readonly RawPass[],
  bikes: Bikes,
  groupOf: (pass: RawPass) => string | null,
  rule: ApartRule,
): Int32Array {
  const d = bikes.dimensions;
  const rows = passDescriptors(passes, bikes);
  const n = passes.length;
  const similarity = new Float32Array(n * n);
  const apart = new Uint8Array(n * n);
  const impossible: number[] = [];
  for (let i = 0; i < n; i++)
    for (let j = 0; j < i; j++) {
      const likeness = dotRows(rows, i, rows, j, d);
      const isApart = cannotBeOne(passes[i]!, passes[j]!, bikes, rule);
      if (isApart) impossible.push(likeness);
      similarity[i * n + j] = likeness;
      similarity[j * n + i] = likeness;
      const isOtherGroup = groupOf(passes[i]!) !== groupOf(passes[j]!);
      apart[i * n + j] = isApart || isOtherGroup ? 1 : 0;
      apart[j * n + i] = apart[i * n + j]!;
    }
  impossible.sort((a, b) => a - b);
  const threshold = impossible[Math.floor(impossible.length * 0.95)] ?? 0.3;
  return averageLinkage(n, similarity, apart, threshold);
}
