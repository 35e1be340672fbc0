/**
 * Cheapest way to cut a line into labelled segments (a hidden semi-Markov model's best path: Bellman's principle over
 * cuts, as in Rabiner, "A tutorial on hidden Markov models", Proc. IEEE 77 (1989), section IV.D, with segment costs in
 * place of log-probabilities).
 *
 * A state is whatever later segments need to know of earlier ones. States at one cut with equal `key` are equivalent
 * for the future, so only the cheapest is kept. With `beam` at least as large as the number of keys the result is the
 * optimum; a smaller beam keeps only the cheapest that many keys at each cut.
 */
export interface Extension<State, Label> {
  readonly state: State;
  readonly label: Label;
  /** Price of this segment and of the step into it; `Infinity` forbids it. */
  readonly cost: number;
}

export interface SegmentProblem<State, Label> {
  /** Cuts are numbered 0 … cuts − 1; the first and the last are the ends of the line. */
  readonly cuts: number;
  readonly start: State;
  /** The furthest cut that a segment beginning at `from` may reach. */
  furthest(from: number): number;
  /** Asked once for each pair of cuts; what it returns is asked for each state at `from`. */
  extensions(from: number, to: number): (state: State) => Iterable<Extension<State, Label>>;
  key(state: State): string | number;
  readonly beam: number;
}

export interface Segment<Label> {
  readonly from: number;
  readonly to: number;
  readonly label: Label;
}

interface Node<State, Label> {
  readonly state: State;
  readonly cost: number;
  readonly segment: Segment<Label> | null;
  readonly before: Node<State, Label> | null;
}

/** Null when every way is forbidden. */
export function cheapestSegments<State, Label>(
  problem: SegmentProblem<State, Label>,
): { readonly cost: number; readonly segments: readonly Segment<Label>[] } | null {
  const last = problem.cuts - 1;
  const nodes = Array.from({ length: problem.cuts }, () => new Map<string | number, Node<State, Label>>());
  nodes[0]!.set(problem.key(problem.start), { state: problem.start, cost: 0, segment: null, before: null });
  for (let from = 0; from < last; from++) {
    const kept = [...nodes[from]!.values()].sort((a, b) => a.cost - b.cost).slice(0, problem.beam);
    nodes[from]!.clear();
    const furthest = Math.min(last, problem.furthest(from));
    if (kept.length === 0) continue;
    for (let to = from + 1; to <= furthest; to++) {
      const extensions = problem.extensions(from, to);
      for (const node of kept) extend(problem, node, extensions(node.state), { from, to }, nodes[to]!);
    }
  }
  let best: Node<State, Label> | null = null;
  for (const node of nodes[last]!.values()) if (best === null || node.cost < best.cost) best = node;
  if (best === null) return null;
  const segments: Segment<Label>[] = [];
  for (let node = best; node.segment !== null && node.before !== null; node = node.before) segments.push(node.segment);
  return { cost: best.cost, segments: segments.reverse() };
}

function extend<State, Label>(
  problem: SegmentProblem<State, Label>,
  node: Node<State, Label>,
  extensions: Iterable<Extension<State, Label>>,
  { from, to }: { readonly from: number; readonly to: number },
  into: Map<string | number, Node<State, Label>>,
): void {
  for (const { state, label, cost } of extensions) {
    const total = node.cost + cost;
    if (!Number.isFinite(total)) continue;
    const key = problem.key(state);
    const rival = into.get(key);
    if (rival !== undefined && rival.cost <= total) continue;
    into.set(key, { state, cost: total, segment: { from, to, label }, before: node });
  }
}
