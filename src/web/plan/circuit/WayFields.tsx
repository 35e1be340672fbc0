/** A way: what it is, how it gets across the track, who may use it while the track is hot, how long it takes. */
import { changeWay } from '../../../core/plan/circuit/edit/ways.js';
import type { Access, Circuit, Way } from '../../../core/plan/circuit/types.js';
import type { CircuitHand } from './circuitHand.js';
import { ACCESS_WORDS } from './circuitWords.js';
import { ChoiceWord, NumberWord } from './WordFields.js';

interface WayFieldsProps {
  readonly circuit: Circuit;
  readonly way: Way;
  readonly point: number;
  readonly hand: CircuitHand;
}

const ACCESSES = Object.entries(ACCESS_WORDS) as [Access, string][];

export function WayFields({ circuit, way, point, hand }: WayFieldsProps) {
  const say = (change: Partial<Way>) =>
    hand.change(changeWay(circuit, way.id, { ...way, ...change }), `What is said of the way ${way.id}`);
  const minutes = (change: { readonly onFoot?: number | undefined; readonly byVehicle?: number | undefined }) => {
    const said = Object.fromEntries(
      Object.entries({ ...way.saidMinutes, ...change }).filter(([, value]) => value !== undefined),
    );
    const { saidMinutes: _, ...plain } = way;
    const next = Object.keys(said).length === 0 ? plain : { ...plain, saidMinutes: said };
    hand.change(changeWay(circuit, way.id, next), `Minutes of the way ${way.id}`);
  };
  return (
    <div className="word-fields">
      <ChoiceWord<Way['kind']>
        label="What it is"
        value={way.kind}
        choices={[
          ['path', 'path'],
          ['service-road', 'service road'],
        ]}
        put={(kind) => say({ kind })}
      />
      <ChoiceWord<Way['crossing']>
        label="Gets across the track by"
        value={way.crossing}
        choices={[
          ['none', 'nothing: it does not cross'],
          ['bridge', 'a bridge'],
          ['tunnel', 'a tunnel'],
        ]}
        put={(crossing) => say({ crossing })}
      />
      <ChoiceWord<Access>
        label="On foot while the track is hot"
        value={way.onFoot}
        choices={ACCESSES}
        put={(onFoot) => say({ onFoot })}
      />
      <ChoiceWord<Access>
        label="By vehicle while the track is hot"
        value={way.byVehicle}
        choices={ACCESSES}
        put={(byVehicle) => say({ byVehicle })}
      />
      <NumberWord
        label="All of it on foot"
        value={way.saidMinutes?.onFoot}
        from={0}
        to={120}
        unit="min"
        put={(onFoot) => minutes({ onFoot })}
      />
      <NumberWord
        label="All of it by vehicle"
        value={way.saidMinutes?.byVehicle}
        from={0}
        to={120}
        unit="min"
        put={(byVehicle) => minutes({ byVehicle })}
      />
      <NumberWord
        label={`Point that the arrows move, of ${way.line.length}`}
        value={point + 1}
        from={1}
        to={way.line.length}
        unit="th"
        isNeeded
        put={(number = 1) => hand.hold({ kind: 'way', id: way.id, point: Math.round(number) - 1 })}
      />
    </div>
  );
}
