/** Quickest ways over a net from one node: "A note on two problems in connexion with graphs", Numerische Mathematik 1 (1959). */
import type { Edge } from './network.js';

export interface Reached {
  readonly minutes: number;
  /** The last edge of the way here; null at the start. */
  readonly by: Edge | null;
}

/** @param minutesOf null: the edge may not be used. */
export function quickestFrom(
  leaving: readonly (readonly Edge[])[],
  start: number,
  minutesOf: (edge: Edge) => number | null,
): ReadonlyMap<number, Reached> {
  const done = new Map<number, Reached>();
  const open = new Map<number, Reached>([[start, { minutes: 0, by: null }]]);
  while (open.size > 0) {
    const [node, reached] = [...open].reduce((best, one) => (one[1].minutes < best[1].minutes ? one : best));
    open.delete(node);
    done.set(node, reached);
    for (const edge of leaving[node]!) {
      const minutes = minutesOf(edge);
      if (minutes === null || done.has(edge.to)) continue;
      const total = reached.minutes + minutes;
      if (total < (open.get(edge.to)?.minutes ?? Number.POSITIVE_INFINITY))
        open.set(edge.to, { minutes: total, by: edge });
    }
  }
  return done;
}

/** Edges from the start to a reached node, in order. */
export function edgesTo(reached: ReadonlyMap<number, Reached>, node: number): Edge[] {
  const out: Edge[] = [];
  for (let at = reached.get(node)?.by ?? null; at !== null; at = reached.get(at.from)?.by ?? null) out.unshift(at);
  return out;
}
