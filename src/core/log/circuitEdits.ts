/**
 * A drawing changed bit by bit: a line of the log says only what changed, member by member, so that drawing for an evening
 * does not fill it, and so that taking one change back brings nothing else back. Rule PL120.
 */
import type { GestureId, SpotId } from '../ids.js';
import type { Circuit, CircuitSpot, Place, Way } from '../plan/circuit/types.js';
import type { Decision, FoldedLog, LogLine } from './types.js';

/** `without`: members that were said and are no more; which can be left unsaid, the line's schema knows. */
type Changed<T> = Partial<T> & { readonly without?: readonly string[] };

export interface CircuitEdit {
  readonly kind: 'circuit-edit';
  /** The gesture that brought the drawing in; of another one it changes nothing. */
  readonly of: GestureId;
  readonly changed?: Changed<Omit<Circuit, 'spots' | 'ways'>>;
  /** What lies between two places of the line is now this: other changes of the line may stand or fall beside it. */
  readonly line?: { readonly between: readonly [Place, Place]; readonly put: readonly Place[] };
  /** New ones whole, others with what changed. */
  readonly spots?: readonly (Changed<CircuitSpot> & { readonly id: SpotId })[];
  readonly ways?: readonly (Changed<Way> & { readonly id: string })[];
  readonly gone?: { readonly spots?: readonly SpotId[]; readonly ways?: readonly string[] };
}

export type CircuitChange = Omit<CircuitEdit, 'kind' | 'of'>;

const SPOT_NEEDS = ['number', 'name', 'place', 'viewAzimuthDeg'] as const;
const WAY_NEEDS = ['line', 'kind', 'crossing', 'onFoot', 'byVehicle'] as const;

export function withChange(circuit: Circuit, { changed = {}, line, spots, ways, gone }: CircuitChange): Circuit {
  const own = merged<Circuit>(circuit, changed);
  return {
    ...own,
    centreline: line === undefined ? own.centreline : spliced(own.centreline, line),
    spots: listWith(own.spots, spots, gone?.spots, SPOT_NEEDS),
    ways: listWith(own.ways, ways, gone?.ways, WAY_NEEDS),
  };
}

function merged<T extends object>(old: T, { without = [], ...said }: Changed<T>): T {
  return Object.fromEntries(Object.entries({ ...old, ...said }).filter(([key]) => !without.includes(key))) as T;
}

/** What is changed of something that is there no more stays gone; a new one has to be whole. */
function listWith<T extends { readonly id: string }>(
  old: readonly T[],
  said: readonly (Changed<T> & { readonly id: T['id'] })[] = [],
  gone: readonly T['id'][] = [],
  needs: readonly (keyof T)[],
): readonly T[] {
  const kept = old.filter(({ id }) => !gone.includes(id));
  const known = new Set(kept.map(({ id }) => id));
  const added = said.flatMap((one): readonly T[] => {
    if (known.has(one.id)) return [];
    const whole = merged({} as T, one);
    return needs.every((key) => whole[key] !== undefined) ? [whole] : [];
  });
  return [
    ...kept.map((one) => said.filter(({ id }) => id === one.id).reduce<T>((all, change) => merged(all, change), one)),
    ...added,
  ];
}

/** As it was where one of the places is gone. */
function spliced(ring: readonly Place[], { between: [before, after], put }: NonNullable<CircuitEdit['line']>) {
  const [from, to] = [before, after].map((place) => ring.findIndex((one) => isSame(one, place))) as [number, number];
  return from < 0 || to <= from ? ring : [...ring.slice(0, from + 1), ...put, ...ring.slice(to)];
}

/** What makes one drawing into the other; null: they are the same. */
export function changeBetween(was: Circuit, is: Circuit): CircuitChange | null {
  if (isSame(was, is)) return null;
  const line = lineBetween(was.centreline, is.centreline);
  const changed = memberChange(strip(was, line !== null), strip(is, line !== null));
  const change: CircuitChange = {
    ...(changed === null ? {} : { changed }),
    ...(line === null ? {} : { line }),
    ...listBetween('spots', was.spots, is.spots),
    ...listBetween('ways', was.ways, is.ways),
    ...goneBetween(was, is),
  };
  // In another order than they can be told in one by one: all are told anew.
  return isSame(withChange(was, change), is) ? change : anew(was, is);
}

function anew(was: Circuit, is: Circuit): CircuitChange {
  const changed = memberChange(strip(was, false), strip(is, false));
  const areSpots = !isSame(was.spots, is.spots);
  const areWays = !isSame(was.ways, is.ways);
  return {
    ...(changed === null ? {} : { changed }),
    ...(areSpots ? { spots: is.spots } : {}),
    ...(areWays ? { ways: is.ways } : {}),
    gone: {
      ...(areSpots ? { spots: was.spots.map(({ id }) => id) } : {}),
      ...(areWays ? { ways: was.ways.map(({ id }) => id) } : {}),
    },
  };
}

function strip({ spots: _, ways: __, centreline, ...own }: Circuit, isLineTold: boolean) {
  return (isLineTold ? own : { ...own, centreline }) as Omit<Circuit, 'spots' | 'ways'>;
}

function memberChange<T extends object>(was: T, is: T): Changed<T> | null {
  const said = Object.entries(is).filter(([key, value]) => !isSame(value, was[key as keyof T]));
  const without = Object.keys(was).filter((key) => is[key as keyof T] === undefined);
  if (said.length + without.length === 0) return null;
  return { ...Object.fromEntries(said), ...(without.length === 0 ? {} : { without }) } as unknown as Changed<T>;
}

function listBetween<Name extends string, T extends { readonly id: string }>(
  name: Name,
  was: readonly T[],
  is: readonly T[],
) {
  const before = new Map(was.map((one) => [one.id, one]));
  const said = is.flatMap((one) => {
    const change = memberChange(before.get(one.id) ?? ({} as T), one);
    return change === null ? [] : [{ ...change, id: one.id }];
  });
  return said.length === 0 ? {} : { [name]: said };
}

function goneBetween(was: Circuit, is: Circuit): Pick<CircuitChange, 'gone'> {
  const goneOf = <Id extends string>(old: readonly { readonly id: Id }[], now: readonly { readonly id: Id }[]) =>
    old.map(({ id }) => id).filter((id) => !now.some((one) => one.id === id));
  const [spots, ways] = [goneOf(was.spots, is.spots), goneOf(was.ways, is.ways)];
  if (spots.length + ways.length === 0) return {};
  return { gone: { ...(spots.length === 0 ? {} : { spots }), ...(ways.length === 0 ? {} : { ways }) } };
}

/** Null where nothing changed, or where the ring begins or ends otherwise: then it is told whole. */
function lineBetween(was: readonly Place[], is: readonly Place[]): NonNullable<CircuitEdit['line']> | null {
  const most = Math.min(was.length, is.length);
  let head = 0;
  while (head < most && isSame(was[head], is[head])) head++;
  let tail = 0;
  while (tail < most - head && isSame(was.at(-1 - tail), is.at(-1 - tail))) tail++;
  if (head === 0 || tail === 0 || (head === was.length && was.length === is.length)) return null;
  return { between: [was[head - 1]!, was[was.length - tail]!], put: is.slice(head, is.length - tail) };
}

/** Members that are not said are none. */
function isSame(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...keys].every((key) => isSame(one[key as keyof typeof one], other[key as keyof typeof other]));
}

type InForce = FoldedLog['inForce'][number];

/** Whoever reads the log sees the drawing whole after each change; changes of a drawing that was replaced are none. */
export function withWholeCircuits(said: readonly InForce[]): readonly InForce[] {
  let drawn: { readonly by: GestureId; readonly decision: CircuitSaid } | null = null;
  return said.flatMap(({ line, decision }): readonly InForce[] => {
    if (decision.kind === 'circuit') drawn = { by: line.gesture, decision };
    if (decision.kind !== 'circuit-edit') return [{ line, decision }];
    if (drawn?.by !== decision.of) return [];
    drawn = { by: drawn.by, decision: wholeOf(decision, drawn.decision) };
    return [{ line, decision: drawn.decision }];
  });
}

type CircuitSaid = Extract<Decision, { kind: 'circuit' }>;

/** The same change of the same drawing is the same record: much that is dear to work out hangs on it. */
const made = new WeakMap<CircuitEdit, { readonly of: CircuitSaid; readonly whole: CircuitSaid }>();

function wholeOf(edit: CircuitEdit, of: CircuitSaid): CircuitSaid {
  const known = made.get(edit);
  if (known?.of === of) return known.whole;
  const whole: CircuitSaid = { kind: 'circuit', circuit: withChange(of.circuit, edit) };
  made.set(edit, { of, whole });
  return whole;
}

/** The gesture that brought in the drawing that stands; null: there is none. */
export const drawnBy = ({ inForce }: { readonly inForce: readonly { readonly line: LogLine }[] }): GestureId | null =>
  inForce.findLast(({ line }) => line.decision.kind === 'circuit')?.line.gesture ?? null;
