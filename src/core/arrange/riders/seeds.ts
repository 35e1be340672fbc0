/**
 * Seeds: passes of one session that are surely one rider (tracklets), and those tracklets joined over the day in a first
 * rough way, from which the rider model learns. Average linkage; the threshold is read off pairs that cannot be one
 * bike, so it sets itself.
 */
import { averageLinkage } from '../../numeric/cluster.js';
import { dotRowWithMany } from '../descriptors.js';
import type { Field } from './field.js';
import type { Look } from './looks.js';

/**
 * Of pairs that cannot be one bike, this share looks less alike than the threshold. A wrong pass in a tracklet forbids
 * right ones later, so tracklets are kept pure: 0.98 cost 2–5 points of F1 on simulated days and on the rendered one, and 0.997
 * still 0.4 of one.
 */
const TRACKLET_QUANTILE = 0.9995;
const SEED_QUANTILE = 0.95;
/** Where a day has no impossible pairs to learn from. */
const USUAL_THRESHOLD = 0.45;

export interface Seeds {
  /** Passes of each tracklet, all of one session. */
  readonly tracklets: readonly (readonly number[])[];
  /** Rough rider of each tracklet. */
  readonly rough: Int32Array;
}

/**
 * Pairs of one session that look alike, and how many would by chance: where that explains a fifth of them and more, the day shows
 * no bike twice for certain, and what it seems to teach of one bike's looks are look-alikes. Of the days that were looked at
 * (simulated and rendered ones, cut short after one round and two) chance explains at most a tenth.
 */
const MOST_BY_CHANCE = 0.2;

/** Likeness above which passes of a session are one rider, and tracklets of a day roughly one. */
export interface SeedThresholds {
  readonly trackletLikeness: number;
  readonly roughLikeness: number;
}

/** @param known thresholds that were logged; null: from the day. */
export function findSeeds(
  field: Field,
  look: Look,
  known: SeedThresholds | null,
): Seeds & { readonly thresholds: SeedThresholds; readonly repeats: number } {
  const { tracklets, thresholds, repeats } = findTracklets(field, look, known);
  return { tracklets, rough: joinRoughly(tracklets, field, look, thresholds.roughLikeness), thresholds, repeats };
}

export function findTracklets(field: Field, look: Look, known: SeedThresholds | null) {
  const sessions = new Map<number, number[]>();
  field.passes.forEach(({ session }, p) => {
    const list = sessions.get(session);
    if (list === undefined) sessions.set(session, [p]);
    else list.push(p);
  });
  const impossible: number[] = [];
  const blocks = [...sessions.values()].map((list) => block(list, field, look, impossible));
  const thresholds = known ?? thresholdsFrom(impossible);
  const tracklets = blocks.flatMap(({ list, similarity, apart }) => {
    const labels = averageLinkage(list.length, similarity, apart, thresholds.trackletLikeness);
    const members: number[][] = [];
    labels.forEach((label, i) => {
      const own = members[label];
      if (own === undefined) members[label] = [list[i]!];
      else own.push(list[i]!);
    });
    return members;
  });
  return { tracklets, thresholds, repeats: repeatsIn(blocks, impossible.length, thresholds.trackletLikeness) };
}

/** How far bikes that look alike within a session are one bike, 0–1; 1 where it is beyond doubt. */
function repeatsIn(blocks: readonly Block[], impossible: number, least: number): number {
  let possible = 0;
  let alike = 0;
  for (const { list, similarity, apart } of blocks)
    for (let i = 0; i < list.length; i++)
      for (let j = 0; j < i; j++) {
        const at = i * list.length + j;
        if (apart[at] === 1) continue;
        possible++;
        if (similarity[at]! >= least) alike++;
      }
  const byChance = (possible * Math.max(1 - TRACKLET_QUANTILE, 1 / (impossible + 1))) / Math.max(1, alike);
  return byChance <= MOST_BY_CHANCE ? 1 : Math.max(0, 1 - byChance);
}

/** @param impossible likeness of pairs that cannot be one bike. */
function thresholdsFrom(impossible: readonly number[]): SeedThresholds {
  const rising = Float64Array.from(impossible).sort();
  const at = (quantile: number): number =>
    rising.length < 20 ? USUAL_THRESHOLD : rising[Math.floor(quantile * (rising.length - 1))]!;
  return { trackletLikeness: at(TRACKLET_QUANTILE), roughLikeness: at(SEED_QUANTILE) };
}

/** Passes of one session, each with each. */
interface Block {
  readonly list: readonly number[];
  readonly similarity: Float32Array;
  readonly apart: Uint8Array;
}

function block(list: readonly number[], field: Field, look: Look, impossible: number[]): Block {
  const n = list.length;
  const similarity = new Float32Array(n * n);
  const apart = new Uint8Array(n * n);
  const likenesses = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    dotRowWithMany(look.rows, list[i]!, look.rows, list.slice(0, i), look.dimensions, likenesses);
    for (let j = 0; j < i; j++) {
      const likeness = likenesses[j]!;
      const isApart = field.cannotBeOne(list[i]!, list[j]!);
      if (isApart) impossible.push(likeness);
      similarity[i * n + j] = likeness;
      similarity[j * n + i] = likeness;
      apart[i * n + j] = isApart ? 1 : 0;
      apart[j * n + i] = isApart ? 1 : 0;
    }
  }
  return { list, similarity, apart };
}

/** Average linkage of tracklets within each group; mean likeness of their passes. */
function joinRoughly(
  tracklets: readonly (readonly number[])[],
  field: Field,
  look: Look,
  threshold: number,
): Int32Array {
  const d = look.dimensions;
  const means = new Float32Array(tracklets.length * d);
  tracklets.forEach((list, t) => {
    for (const p of list)
      for (let k = 0; k < d; k++) means[t * d + k] = means[t * d + k]! + look.rows[p * d + k]! / list.length;
  });
  const rough = new Int32Array(tracklets.length);
  let next = 0;
  for (const group of [-1, ...field.groups.keys()]) {
    const own = tracklets
      .map((_, t) => t)
      .filter((t) => (field.groupOf[field.passes[tracklets[t]![0]!]!.session] ?? -1) === group);
    const n = own.length;
    const similarity = new Float32Array(n * n);
    const apart = new Uint8Array(n * n);
    for (let i = 0; i < n; i++) {
      dotRowWithMany(means, own[i]!, means, own.slice(0, i), d, similarity.subarray(i * n, i * n + i));
      for (let j = 0; j < i; j++) {
        similarity[j * n + i] = similarity[i * n + j]!;
        apart[i * n + j] = areApart(tracklets[own[i]!]!, tracklets[own[j]!]!, field) ? 1 : 0;
        apart[j * n + i] = apart[i * n + j]!;
      }
    }
    const labels = averageLinkage(n, similarity, apart, threshold);
    labels.forEach((label, i) => {
      rough[own[i]!] = next + label;
    });
    next += labels.reduce((most, label) => Math.max(most, label + 1), 0);
  }
  return rough;
}

export function areApart(a: readonly number[], b: readonly number[], field: Field): boolean {
  if (field.passes[a[0]!]!.session !== field.passes[b[0]!]!.session) return false;
  return a.some((p) => b.some((q) => field.cannotBeOne(p, q)));
}
