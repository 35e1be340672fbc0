/**
 * The day as a mixed-integer programme in CPLEX LP text: a flow through the day's network, and what it sees.
 *
 * A group's stretches at a spot fill places, the first of which counts in full and each further one less; every stretch fills
 * one place. As the shares fall, the best fill of the places is the worth as `worthOfPlan` counts it, without more whole
 * variables. Flow in fractions must not see in full each spot that it goes to by a tenth: no place of a spot is filled further
 * than the spot is come to (`come`). Without those rows nothing is proved in useful time; decisions/004 has the figures.
 */

import { groupsOf, sharedWorth, worthOfStand } from './cells.js';
import { minutesOf } from './legs.js';
import { LpText, type Term } from './lpText.js';
import { type Arc, type Network, networksOf } from './network.js';
import { staysAlong } from './paths.js';
import type { DayProblem, Stay } from './types.js';
import { isMeant } from './worthOfPlan.js';

export interface DayModel {
  readonly text: string;
  /** Stays of a solution; values by the names in the text. */
  readonly read: (valueFor: (name: string) => number) => Stay[];
  /** Values of the variables that say where somebody stands. */
  readonly standing: (stays: readonly Stay[]) => ReadonlyMap<string, number>;
}

export interface ModelOptions {
  /** Whether there is any plan, whatever it is worth. */
  readonly isOnlyWays?: boolean;
  /** Rows that only tighten, left out to measure what they bring. */
  readonly without?: 'coming' | 'stands' | 'both';
}

export function modelOfDay(problem: DayProblem, { isOnlyWays = false, without }: ModelOptions = {}): DayModel {
  const networks = networksOf(problem);
  const text = new LpText();
  addFlow(text, problem, networks);
  addStands(text, problem, networks);
  if (!isOnlyWays) {
    const come = without === 'coming' || without === 'both' ? () => null : addComing(text, problem, networks);
    addSeen(text, problem, come, without === 'stands' || without === 'both' ? [] : networks);
    addSides(text, problem, come);
  }
  addRests(text, problem, networks);
  addPins(text, problem);
  if (problem.photographers > 1) forEachArc(networks, (_, name) => text.whole(name));
  return {
    text: text.toString(),
    read: (valueFor) => staysOf(problem, networks, valueFor),
    standing: (stays) => standingOf(problem, stays),
  };
}

function standingOf(problem: DayProblem, stays: readonly Stay[]): Map<string, number> {
  const values = new Map<string, number>();
  forEachStand(problem, (stretch, spot) => {
    const { name } = problem.stretches[stretch]!;
    const isThere = stays.some((stay) => stay.stretch === name && stay.spot === problem.spots[spot]);
    values.set(stoodName(stretch, spot), isThere ? 1 : 0);
  });
  return values;
}

/** Where one photographer stood says all; of two it is their ways that say who stood where. */
function staysOf(problem: DayProblem, networks: readonly Network[], valueFor: (name: string) => number): Stay[] {
  if (problem.photographers > 1) return staysAlong(problem, networks, (n, i) => valueFor(arcName(n, i)));
  return problem.stretches.map((stretch, i): Stay => {
    const spot = problem.spots.find((_, s) => valueFor(stoodName(i, s)) > 0.5);
    return { photographer: 0, stretch: stretch.name, spot: spot ?? null };
  });
}

const arcName = (network: number, arc: number): string => `a${network}_${arc}`;
const stoodName = (stretch: number, spot: number): string => `y${stretch}_${spot}`;
const placeName = (stretch: number, spot: number, place: number): string => `z${stretch}_${spot}_${place}`;

/** Flow is kept at every node; each source sends its photographers out. */
function addFlow(text: LpText, { photographers }: DayProblem, networks: readonly Network[]): void {
  for (const [n, { arcs, sources, sink }] of networks.entries()) {
    const rows = new Map<number, Term[]>();
    const at = (node: number) => rows.get(node) ?? rows.set(node, []).get(node)!;
    for (const [i, arc] of arcs.entries()) {
      at(arc.from).push([-1, arcName(n, i)]);
      at(arc.to).push([1, arcName(n, i)]);
      text.worth(-arc.cost, arcName(n, i));
      text.between(arcName(n, i), 0, photographers);
    }
    const sent = new Map(sources.map(({ node, count }) => [node, count]));
    for (const [node, terms] of rows) if (node !== sink) text.row(terms, '=', -(sent.get(node) ?? 0));
  }
}

/** Somebody stands there: once, however many do. */
function addStands(text: LpText, problem: DayProblem, networks: readonly Network[]): void {
  const standing = new Map<string, Term[]>();
  forEachArc(networks, ({ stands }, arc) => {
    for (let i = stands?.first ?? 0; i <= (stands?.last ?? -1); i += 1) {
      const name = stoodName(i, stands!.spot);
      standing.set(name, [...(standing.get(name) ?? []), [-1, arc]]);
    }
  });
  forEachStand(problem, (stretch, spot) => {
    const name = stoodName(stretch, spot);
    const flow = standing.get(name) ?? [];
    text.between(name, 0, 1);
    text.whole(name);
    text.worth(problem.besides[stretch]![spot]!, name);
    text.row([[1, name], ...flow], problem.photographers === 1 ? '=' : '<=', 0);
    if (problem.photographers > 1 && problem.besides[stretch]![spot]! < 0)
      text.row([[problem.photographers, name], ...flow], '>=', 0);
  });
}

function forEachArc(networks: readonly Network[], visit: (arc: Arc, name: string) => void): void {
  for (const [n, { arcs }] of networks.entries()) for (const [i, arc] of arcs.entries()) visit(arc, arcName(n, i));
}

function forEachStand({ stretches, spots }: DayProblem, visit: (stretch: number, spot: number) => void): void {
  for (const stretch of stretches.keys()) for (const spot of spots.keys()) visit(stretch, spot);
}

type Coming = (spot: number) => string | null;

function addComing(text: LpText, problem: DayProblem, networks: readonly Network[]): Coming {
  for (const spot of problem.spots.keys()) {
    const begins = problem.start?.places.includes(problem.spots[spot]!) ? 1 : 0;
    const entries = networks.flatMap(({ arcs }, n) =>
      arcs.flatMap((arc: Arc, i): Term[] => (arc.enters === spot ? [[-1, arcName(n, i)]] : [])),
    );
    text.between(`v${spot}`, 0, 1);
    text.row([[1, `v${spot}`], ...entries], '<=', begins);
  }
  return (spot) => `v${spot}`;
}

function addSeen(text: LpText, problem: DayProblem, come: Coming, networks: readonly Network[]): void {
  const groups = groupsOf(problem);
  const seen = new Map<string, Term[]>();
  const add = (name: string, term: Term) => seen.get(name)?.push(term) ?? seen.set(name, [term]);
  forEachArc(networks, ({ stands }, arc) => {
    if (stands === undefined) return;
    for (const [g, group] of groups.entries()) {
      const worth = worthOfStand(problem, group, stands);
      if (worth > 0) add(`q${g}_${stands.spot}`, [-worth, arc]);
    }
  });
  for (const [g, group] of groups.entries())
    for (const [spot, id] of problem.spots.entries()) {
      const name = `q${g}_${spot}`;
      const stretches = [...problem.stretches.keys()].filter(
        (i) => problem.stretches[i]!.group === group && problem.worth[i]![spot]! > 0,
      );
      const had = problem.had.filter((each) => each.group === group && each.spot === id);
      if (stretches.length + had.length === 0) continue;
      text.worth(1, name);
      const filled = addPlaces(text, problem, spot, stretches, come, { key: `${g}`, had });
      text.row([[1, name], ...filled], '<=', 0);
      if (networks.length > 0)
        text.row(
          [[1, name], ...(seen.get(name) ?? [])],
          '<=',
          sharedWorth(
            problem,
            had.map(({ worth }) => worth),
          ),
        );
    }
}

function addPlaces(
  text: LpText,
  problem: DayProblem,
  spot: number,
  stretches: readonly number[],
  come: Coming,
  { key, had }: { readonly key: string; readonly had: DayProblem['had'] },
): Term[] {
  const shares = problem.returns.slice(0, stretches.length + had.length);
  const seen: Term[] = [];
  const hadName = (i: number, place: number) => `h${key}_${spot}_${i}_${place}`;
  for (const place of shares.keys()) {
    const filled = stretches.map((stretch): Term => [1, placeName(stretch, spot, place)]);
    const before = had.map((_, i): Term => [1, hadName(i, place)]);
    text.row([...filled, ...before], '<=', 1);
    const coming = come(spot);
    if (coming !== null && filled.length > 0) text.row([...filled, [-1, coming]], '<=', 0);
    for (const stretch of stretches)
      seen.push([-shares[place]! * problem.worth[stretch]![spot]!, placeName(stretch, spot, place)]);
    for (const [i, { worth }] of had.entries()) seen.push([-shares[place]! * worth, hadName(i, place)]);
  }
  for (const stretch of stretches)
    text.row(
      [...shares.map((_, place): Term => [1, placeName(stretch, spot, place)]), [-1, stoodName(stretch, spot)]],
      '<=',
      0,
    );
  for (const i of had.keys())
    text.row(
      shares.map((_, place): Term => [1, hadName(i, place)]),
      '<=',
      1,
    );
  return seen;
}

/** A group is seen from both sides when it is seen from each. */
function addSides(text: LpText, problem: DayProblem, come: Coming): void {
  for (const [g, group] of groupsOf(problem).entries()) {
    const worth = problem.bothSides[group] ?? 0;
    if (worth === 0) continue;
    text.between(`b${g}`, 0, 1);
    text.worth(worth, `b${g}`);
    for (const side of ['left', 'right'] as const) {
      if (problem.had.some((had) => had.group === group && problem.sides[problem.spots.indexOf(had.spot)] === side))
        continue;
      const spots = [...problem.spots.keys()].filter((spot) => problem.sides[spot] === side);
      text.row([[1, `b${g}`], ...spots.map((spot): Term => [-1, `u${g}_${spot}`])], '<=', 0);
    }
    for (const spot of problem.spots.keys()) {
      const stood = [...problem.stretches.keys()].filter((i) => problem.stretches[i]!.group === group);
      text.row([[1, `u${g}_${spot}`], ...stood.map((i): Term => [-1, stoodName(i, spot)])], '<=', 0);
      const coming = come(spot);
      if (coming !== null)
        text.row(
          [
            [1, `u${g}_${spot}`],
            [-1, coming],
          ],
          '<=',
          0,
        );
    }
  }
}

/** Every row of stretches that is longer than one may work holds a rest. */
function addRests(text: LpText, problem: DayProblem, networks: readonly Network[]): void {
  const { rest, stretches } = problem;
  if (rest === null) return;
  for (const [n, { arcs }] of networks.entries())
    for (const [first, stretch] of stretches.entries()) {
      const last = stretches.findIndex(({ to }, i) => i >= first && minutesOf(to - stretch.from) > rest.afterMinutes);
      if (last < 0) continue;
      const rests = arcs.flatMap((arc, i): Term[] =>
        arc.rest && arc.rest[0] < last && arc.rest[1] > first ? [[1, arcName(n, i)]] : [],
      );
      text.row(rests, '>=', 1);
    }
}

function addPins(text: LpText, problem: DayProblem): void {
  for (const wish of problem.wishes) {
    if (wish.kind !== 'pin') continue;
    for (const [i, stretch] of problem.stretches.entries())
      if (isMeant(wish, stretch)) text.row([[1, stoodName(i, problem.spots.indexOf(wish.spot))]], '=', 1);
  }
}
