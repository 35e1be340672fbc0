import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../demo/circuit/ebbstone.js';
import type { GestureId, SpotId, WriterId } from '../ids.js';
import type { Circuit, CircuitSpot } from '../plan/circuit/types.js';
import { epochMsOf, metresOf } from '../units.js';
import { type CircuitChange, changeBetween, drawnBy, withChange } from './circuitEdits.js';
import { checkDecision } from './decisionSchema.js';
import { fold } from './fold.js';
import type { Decision, LogLine } from './types.js';

const DRAWN = 'drawn' as GestureId;
const edit = (change: CircuitChange | null): Decision => ({ kind: 'circuit-edit', of: DRAWN, ...change });

function linesOf(...said: readonly (readonly [gesture: string, Decision])[]): readonly LogLine[] {
  return said.map(([gesture, decision], i) => ({
    writer: 'one' as WriterId,
    seq: i + 1,
    v: 1,
    lamport: i + 1,
    gesture: gesture as GestureId,
    at: epochMsOf(0),
    decision,
  }));
}
const circuitOf = (lines: readonly LogLine[]): Circuit | undefined => {
  const last = fold(lines).inForce.findLast(({ decision }) => decision.kind === 'circuit')?.decision;
  return last?.kind === 'circuit' ? last.circuit : undefined;
};

const spotWith = (circuit: Circuit, index: number, said: Partial<CircuitSpot>): Circuit => ({
  ...circuit,
  spots: circuit.spots.map((spot, i) => (i === index ? { ...spot, ...said } : spot)),
});
const east = (place: Circuit['paddock'], deg: number) => ({
  ...place,
  longitudeDeg: (place.longitudeDeg + deg) as Circuit['paddock']['longitudeDeg'],
});

/** What hands do on the sheet, each to one thing of the drawing. */
const HANDS: readonly ((circuit: Circuit, at: number) => Circuit)[] = [
  (circuit, at) => {
    const index = at % Math.max(1, circuit.spots.length);
    const spot = circuit.spots[index];
    return spot === undefined ? circuit : spotWith(circuit, index, { place: east(spot.place, 0.001) });
  },
  (circuit, at) => spotWith(circuit, at % Math.max(1, circuit.spots.length), { caution: `Mind ${at}.` }),
  (circuit, at) => ({
    ...circuit,
    spots: circuit.spots.map((spot, i) => {
      const { caution: _, ...without } = spot;
      return i === at % circuit.spots.length ? without : spot;
    }),
  }),
  (circuit, at) => ({
    ...circuit,
    spots: [...circuit.spots, { ...EBBSTONE.spots[0]!, id: `new-${at}-${circuit.spots.length}` as SpotId }],
  }),
  (circuit, at) => ({ ...circuit, spots: circuit.spots.filter((_, i) => i !== at % circuit.spots.length) }),
  (circuit) => ({ ...circuit, spots: circuit.spots.toReversed() }),
  (circuit, at) => ({ ...circuit, ways: circuit.ways.filter((_, i) => i !== at % Math.max(1, circuit.ways.length)) }),
  (circuit, at) => ({
    ...circuit,
    ways: circuit.ways.map((way, i) => (i === at % circuit.ways.length ? { ...way, onFoot: 'with-permit' } : way)),
  }),
  (circuit, at) => ({
    ...circuit,
    centreline: circuit.centreline.map((place, i) =>
      i === at % circuit.centreline.length ? east(place, 1e-4) : place,
    ),
  }),
  (circuit, at) => ({
    ...circuit,
    centreline: circuit.centreline.filter((_, i) => i !== at % circuit.centreline.length),
  }),
  (circuit, at) => ({
    ...circuit,
    centreline: [...circuit.centreline.slice(at % 50), ...circuit.centreline.slice(0, at % 50)],
  }),
  (circuit, at) => ({
    ...circuit,
    name: `Ring ${at}`,
    widthM: metresOf(8 + (at % 5)),
    paddock: east(circuit.paddock, 0.002),
  }),
  ({ widthM: _, lapRecordMs: __, ...circuit }) => circuit,
];

describe('a drawing changed bit by bit', () => {
  it('PL120: what changed, put to the old drawing, is the new one, whatever hands did; each change can be read back', () => {
    const hand = fc.record({ does: fc.nat(HANDS.length - 1), at: fc.nat(500) });
    let changes = 0;
    fc.assert(
      fc.property(fc.array(hand, { minLength: 1, maxLength: 6 }), fc.boolean(), (hands, isOneByOne) => {
        const steps = [EBBSTONE];
        for (const { does, at } of hands) steps.push(HANDS[does]!(steps.at(-1)!, at));
        const pairs = isOneByOne
          ? steps.slice(1).map((is, i) => [steps[i]!, is] as const)
          : [[steps[0]!, steps.at(-1)!] as const];
        for (const [was, is] of pairs) {
          const change = changeBetween(was, is);
          if (change === null) expect(is).toEqual(was);
          else {
            const kept = JSON.parse(JSON.stringify(change)) as CircuitChange;
            expect(checkDecision(edit(kept)).kind).toBe('decision');
            expect(withChange(was, kept)).toEqual(is);
            changes++;
          }
        }
      }),
      { numRuns: 150 },
    );
    expect(changes).toBeGreaterThan(100);
  });

  it('PL120: two hundred changes of spots and the line are 50 kB of the log, where whole drawings are 6 MB', () => {
    let [circuit, bytes, whole] = [EBBSTONE, 0, 0];
    for (let i = 0; i < 200; i++) {
      const next = HANDS[i % 2 === 0 ? 0 : 8]!(circuit, 7 * i + 1);
      bytes += JSON.stringify(edit(changeBetween(circuit, next))).length;
      whole += JSON.stringify(next).length;
      circuit = next;
    }
    expect(whole).toBeGreaterThan(5_500_000);
    expect(bytes).toBeLessThan(60_000);
  });

  it('PL120: whoever reads the log sees whole drawings; one change taken back takes nothing else with it', () => {
    const moved = spotWith(EBBSTONE, 0, { place: east(EBBSTONE.spots[0]!.place, 0.001) });
    const named = spotWith(moved, 0, { name: 'Gate' });
    const lines = linesOf(
      [DRAWN, { kind: 'circuit', circuit: EBBSTONE }],
      ['moved', edit(changeBetween(EBBSTONE, moved))],
      ['named', edit(changeBetween(moved, named))],
    );
    expect(circuitOf(lines)).toEqual(named);
    expect(drawnBy(fold(lines))).toBe(DRAWN);
    expect(fold(lines).gestures).toEqual([DRAWN, 'moved', 'named']);
    const back = linesOf(...lines.map(({ gesture, decision }) => [gesture, decision as Decision] as const), [
      'back',
      { kind: 'withdraw', gesture: 'moved' as GestureId },
    ]);
    expect(circuitOf(back)).toEqual(spotWith(EBBSTONE, 0, { name: 'Gate' }));
    // Read twice, it is the very same record: what hangs on it is not worked out again.
    expect(circuitOf(lines)).toBe(circuitOf(lines));
  });

  it('PL120: of a drawing that was replaced or taken back, changes are none; what is gone stays gone', () => {
    const moved = spotWith(EBBSTONE, 0, { place: east(EBBSTONE.spots[0]!.place, 0.001) });
    const change = edit(changeBetween(EBBSTONE, moved));
    const other: Circuit = { ...EBBSTONE, name: 'Other', spots: [] };
    const drawn = [DRAWN, { kind: 'circuit', circuit: EBBSTONE }] as const;
    expect(circuitOf(linesOf(drawn, ['other', { kind: 'circuit', circuit: other }], ['late', change]))).toEqual(other);
    expect(
      circuitOf(linesOf(drawn, ['moved', change], ['back', { kind: 'withdraw', gesture: DRAWN }])),
    ).toBeUndefined();
    const without = { ...EBBSTONE, spots: EBBSTONE.spots.slice(1) };
    const gone = edit(changeBetween(EBBSTONE, without));
    expect(circuitOf(linesOf(drawn, ['gone', gone], ['late', change]))).toEqual(without);
  });
});
