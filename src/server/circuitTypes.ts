/** What the desk tells of the circuit. Types only, as in `types.ts`. */
import type { GestureId } from '../core/ids.js';
import type { Circuit } from '../core/plan/circuit/types.js';

export interface CircuitView {
  readonly asOf: number;
  readonly meeting: string;
  /** What the meeting calls its circuit; null: it does not say. */
  readonly name: string | null;
  readonly zone: string;
  /** As it was drawn last; null: nobody drew one. */
  readonly circuit: Circuit | null;
  /** The gesture that brought this drawing in, which changes of it name. */
  readonly drawnBy: GestureId | null;
  /** A person's word; null: nobody said whether the permit is had. */
  readonly hasPermit: boolean | null;
  /** An invented circuit can be taken to try things on. */
  readonly hasInvented: boolean;
  readonly initials: string;
}
