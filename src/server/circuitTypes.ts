/** What the desk tells of the circuit. Types only, as in `types.ts`. */
import type { Circuit } from '../core/plan/circuit/types.js';

export interface CircuitView {
  readonly asOf: number;
  readonly meeting: string;
  /** What the meeting calls its circuit; null: it does not say. */
  readonly name: string | null;
  readonly zone: string;
  /** As it was drawn last; null: nobody drew one. */
  readonly circuit: Circuit | null;
  /** A person's word; null: nobody said whether the permit is had. */
  readonly hasPermit: boolean | null;
  /** An invented circuit can be taken to try things on. */
  readonly hasInvented: boolean;
  readonly initials: string;
}
