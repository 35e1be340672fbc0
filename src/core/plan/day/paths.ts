/** A flow through the day's network read as one walk a photographer. */
import type { Network } from './network.js';
import type { DayProblem, Stay } from './types.js';

export function staysAlong(
  problem: DayProblem,
  networks: readonly Network[],
  flowOf: (network: number, arc: number) => number,
): Stay[] {
  return networks.flatMap((network, n) => {
    const left = network.arcs.map((_, i) => Math.round(flowOf(n, i)));
    return network.sources.flatMap(({ node, photographers }) =>
      photographers.flatMap((photographer) => walkFrom(problem, network, left, node, photographer)),
    );
  });
}

function walkFrom(problem: DayProblem, network: Network, left: number[], source: number, photographer: number): Stay[] {
  const stood = new Map<number, number>();
  for (let node = source; node !== network.sink; ) {
    const next = network.arcs.findIndex((arc, i) => arc.from === node && left[i]! > 0);
    if (next < 0) throw new Error(`Expected a way on from node ${node} of the plan but the solution has none.`);
    left[next]! -= 1;
    const { to, stands } = network.arcs[next]!;
    for (let i = stands?.first ?? 0; i <= (stands?.last ?? -1); i += 1) stood.set(i, stands!.spot);
    node = to;
  }
  return problem.stretches.map(({ name }, i) => {
    const spot = stood.get(i);
    return { photographer, stretch: name, spot: spot === undefined ? null : problem.spots[spot]! };
  });
}
