/** What is wrong with a drawing: each sentence has a letter, and the letter stands on the map where it is. */
import type { Sheet } from '../../../core/plan/circuit/draw/drawCircuit.js';
import type { CircuitProblem } from '../../../core/plan/circuit/types.js';

/** More places of one fault than these tell nothing more. */
const MOST_PLACES = 12;

const letterOf = (index: number): string => String.fromCharCode(97 + (index % 26));

export function FaultList({ faults }: { readonly faults: readonly CircuitProblem[] }) {
  if (faults.length === 0) return null;
  return (
    <ol className="faults">
      {faults.map((fault, i) => (
        <li key={fault.sentence}>
          {fault.at.length > 0 && <b className="fault-letter">{letterOf(i)}</b>} {fault.sentence}
        </li>
      ))}
    </ol>
  );
}

export function FaultMarks({ faults, sheet }: { readonly faults: readonly CircuitProblem[]; readonly sheet: Sheet }) {
  return faults.map((fault, i) =>
    fault.at.slice(0, MOST_PLACES).map((place) => {
      const { x, y } = sheet.toSheet(place);
      return (
        <g
          key={`${fault.sentence} ${x} ${y}`}
          className="fault"
          transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}
        >
          <circle r={16} />
          <text x={13} y={-13}>
            {letterOf(i)}
          </text>
        </g>
      );
    }),
  );
}
