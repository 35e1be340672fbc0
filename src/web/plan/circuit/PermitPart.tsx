/** Whether the permit is had: a person's word. Before it is said nothing that wants one is planned. */
import type { Circuit } from '../../../core/plan/circuit/types.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { Absent, Initialled } from '../../marks/Voices.js';
import { say } from '../../stores/said.js';
import { counted } from './circuitWords.js';

const WORDS = SHEET_WORDS.circuit;

interface PermitPartProps {
  readonly circuit: Circuit;
  readonly hasPermit: boolean | null;
  readonly initials: string;
}

export function PermitPart({ circuit, hasPermit, initials }: PermitPartProps) {
  const ways = circuit.ways.filter(({ onFoot, byVehicle }) => [onFoot, byVehicle].includes('with-permit')).length;
  const spots = circuit.spots.filter(({ needsPermit }) => needsPermit === true).length;
  const sayPermit = (has: boolean) =>
    void say(has ? 'You have the permit' : 'You have no permit', [{ kind: 'permit', has }]);
  return (
    <section className="part ask">
      <h2>The permit</h2>
      <p>
        {ways + spots === 0
          ? 'Nothing drawn here wants one.'
          : `${counted(ways, 'way')} and ${counted(spots, 'spot')} want one. Without your word no plan uses them.`}{' '}
        {hasPermit === null ? (
          <Absent>nobody said whether you have it</Absent>
        ) : (
          <Initialled text={hasPermit ? 'You have it' : 'You have none'} initials={initials} />
        )}
      </p>
      <div className="acts">
        <Act words={WORDS.permit} run={() => sayPermit(true)} />
        <Act words={WORDS.noPermit} run={() => sayPermit(false)} />
      </div>
      <p className="note">The circuit’s and the marshals’ word of the day stands above anything said here.</p>
    </section>
  );
}
