/** Where one goes by either plan, on two maps alike. */
import type { LegView, WaysView } from '../../server/lunch/types.js';
import { CircuitMap } from '../plan/CircuitMap.js';

export function BothWays({ ways, hasKept, isTaken }: BothWaysProps) {
  return (
    <div className="both-ways">
      {hasKept && <OneWay ways={ways} legs={ways.kept} title={isTaken ? 'before' : 'yours'} />}
      <OneWay ways={ways} legs={ways.found} title={isTaken ? 'now yours' : 'found'} />
    </div>
  );
}

interface BothWaysProps {
  readonly ways: WaysView;
  readonly hasKept: boolean;
  readonly isTaken: boolean;
}

function OneWay({
  ways: { circuit, means },
  legs,
  title,
}: {
  readonly ways: WaysView;
  readonly legs: readonly LegView[];
  readonly title: string;
}) {
  const name = (id: string | null) => circuit.spots.find((spot) => spot.id === id)?.name ?? 'the van';
  const stops = legs.map(({ to }) => name(to));
  return (
    <figure>
      <figcaption>{title}</figcaption>
      <CircuitMap
        circuit={circuit}
        label={`The afternoon ${title}: ${stops.length === 0 ? 'nowhere' : `from the van to ${stops.join(', then ')}`}`}
        stands={new Set(legs.flatMap(({ to }) => to ?? []))}
        route={legs.map((leg) => ({ ...leg, isDone: false }))}
        means={means}
      />
    </figure>
  );
}
