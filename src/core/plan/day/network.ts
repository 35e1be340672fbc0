/**
 * A day as a network: who walks it from source to sink has a plan that can be walked. A node is standing at a spot through a
 * stretch, or being there without standing: waiting, or resting. Being there takes in every later beginning, so that a way
 * needs one arc to the first stretch it reaches, not one to each.
 */
import { type Leg, legBetween, minutesOf, type Standing } from './legs.js';
import type { DayProblem } from './types.js';
import { DAY_END, isMeant, startOf } from './worthOfPlan.js';

export type Node = number;

export interface Arc {
  readonly from: Node;
  readonly to: Node;
  readonly cost: number;
  /** Standing at a spot from one stretch through another. */
  readonly stands?: { readonly spot: number; readonly first: number; readonly last: number };
  /** The spot that is come to from elsewhere. */
  readonly enters?: number;
  /** A rest after this stretch and before that one, both left out; they may lie outside the day. */
  readonly rest?: readonly [after: number, before: number];
}

export interface Source {
  readonly node: Node;
  /** How many photographers set out here. */
  readonly count: number;
  readonly photographers: readonly number[];
}

/** Photographers that can be told from each other only by where they begin walk one network. */
export interface Network {
  readonly sources: readonly Source[];
  readonly sink: Node;
  readonly arcs: readonly Arc[];
}

export interface Nodes {
  readonly wait: (stretch: number, spot: number) => Node;
  readonly rest: (stretch: number, spot: number) => Node;
  /** Stood until this stretch's end. */
  readonly left: (stretch: number, spot: number) => Node;
  readonly sink: Node;
  readonly source: (index: number) => Node;
}

export function nodesOf({ stretches, spots }: DayProblem): Nodes {
  const all = stretches.length * spots.length;
  const at = (layer: number) => (stretch: number, spot: number) => layer * all + stretch * spots.length + spot;
  return { wait: at(0), rest: at(1), left: at(2), sink: 3 * all, source: (index) => 3 * all + 1 + index };
}

/** With a limit between rests each photographer has a network: whose rest it was matters then. */
export function networksOf(problem: DayProblem): Network[] {
  const all = Array.from({ length: problem.photographers }, (_, i) => i);
  const startOfOne = (i: number) => problem.start?.places[i] ?? null;
  const starts = [...new Set(all.map(startOfOne))];
  const byStart = starts.map((start) => all.filter((i) => startOfOne(i) === start));
  const crews = problem.rest === null ? [byStart] : all.map((i) => [[i]]);
  return crews.map((crew) => networkOf(problem, crew));
}

function networkOf(problem: DayProblem, crew: readonly (readonly number[])[]): Network {
  const nodes = nodesOf(problem);
  const day = dayOf(problem);
  const sources = crew.map((photographers, i) => ({
    node: nodes.source(i),
    count: photographers.length,
    photographers,
  }));
  const arcs: Arc[] = [];
  for (const { node, photographers } of sources) {
    const start = startOf(problem, photographers[0]!);
    arcs.push(...arcsFrom(day, node, start, -1));
    const unused = legBetween(problem, start, DAY_END);
    if (unused) arcs.push({ from: node, to: nodes.sink, cost: unused.cost, rest: [-1, day.stretches] });
  }
  for (let stretch = 0; stretch < day.stretches; stretch += 1) {
    for (let spot = 0; spot < day.spots; spot += 1) arcs.push(...arcsAt(day, stretch, spot));
  }
  return { sources, sink: nodes.sink, arcs };
}

interface Day {
  readonly problem: DayProblem;
  readonly nodes: Nodes;
  readonly stretches: number;
  readonly spots: number;
  readonly mayStand: (stretch: number, spot: number) => boolean;
  /** Van breaks that are over when a stretch begins; none has −1. Nobody waits or stands at a spot through one. */
  readonly partOf: (stretch: number) => number;
}

function dayOf(problem: DayProblem): Day {
  const blocked = problem.stretches.map((stretch) =>
    problem.spots.map((spot) =>
      problem.wishes.some(
        (wish) => wish.kind !== 'pin' && isMeant(wish, stretch) && (wish.kind === 'rest' || wish.spot === spot),
      ),
    ),
  );
  const parts = problem.stretches.map(({ from }) => problem.vanBreaks.filter((span) => span.to <= from).length);
  return {
    problem,
    nodes: nodesOf(problem),
    stretches: problem.stretches.length,
    spots: problem.spots.length,
    mayStand: (stretch, spot) => !blocked[stretch]![spot],
    partOf: (stretch) => parts[stretch] ?? -1,
  };
}

/** What leads on from being at a spot as a stretch begins: standing through it and on, or not standing. */
function arcsAt(day: Day, stretch: number, spot: number): Arc[] {
  const { nodes, problem } = day;
  const arcs: Arc[] = [];
  const isLastOfPart = day.partOf(stretch + 1) !== day.partOf(stretch);
  for (const being of problem.rest === null ? [nodes.wait] : [nodes.wait, nodes.rest]) {
    const from = being(stretch, spot);
    for (let last = stretch; isOneStand(day, stretch, last, spot); last += 1)
      arcs.push({ from, to: nodes.left(last, spot), cost: 0, stands: { spot, first: stretch, last } });
    if (isLastOfPart) continue;
    const wait = { from, to: being(stretch + 1, spot), cost: 0 };
    arcs.push(being === nodes.rest ? { ...wait, rest: [stretch - 1, stretch + 1] } : wait);
  }
  if (!day.mayStand(stretch, spot)) return arcs;
  const from = nodes.left(stretch, spot);
  const standing = { place: spot, atMinute: minutesOf(problem.stretches[stretch]!.to) };
  arcs.push(...arcsFrom(day, from, standing, stretch));
  const home = legBetween(problem, standing, DAY_END);
  if (home) arcs.push({ from, to: nodes.sink, cost: home.cost, rest: [stretch, day.stretches] });
  return arcs;
}

function isOneStand({ problem, mayStand, partOf, stretches }: Day, first: number, last: number, spot: number): boolean {
  if (last >= stretches || partOf(last) !== partOf(first) || !mayStand(last, spot)) return false;
  const { from } = problem.stretches[first]!;
  const { to } = problem.stretches[last]!;
  return problem.rest === null || minutesOf(to - from) <= problem.rest.afterMinutes;
}

/** To every spot, in every part of the day that is left: to the first stretch reached, and the first reached rested. */
function arcsFrom(day: Day, from: Node, standing: Standing, after: number): Arc[] {
  const { nodes, problem } = day;
  const arcs: Arc[] = [];
  for (let spot = 0; spot < day.spots; spot += 1) {
    const place = standing.place === spot ? {} : { enters: spot };
    let waitsIn = -1;
    let restsIn = -1;
    for (let stretch = after + 1; stretch < day.stretches; stretch += 1) {
      const part = day.partOf(stretch);
      if (waitsIn === part && (restsIn === part || problem.rest === null)) continue;
      const leg = legTo(day, standing, stretch, spot);
      if (leg === null) continue;
      const isRested = problem.rest !== null && (after < 0 || leg.freeMinutes >= problem.rest.leastMinutes);
      if (isRested && restsIn !== part) {
        arcs.push({ from, to: nodes.rest(stretch, spot), cost: leg.cost, ...place, rest: [after, stretch] });
        restsIn = part;
        waitsIn = part;
      } else if (waitsIn !== part && !isStandingOn(day, standing, after, stretch, spot)) {
        if (!isLeftTooSoon(day, standing, after, stretch, spot))
          arcs.push({ from, to: nodes.wait(stretch, spot), cost: leg.cost, ...place });
        waitsIn = part;
      }
    }
  }
  return arcs;
}

/** Going on where one stands is one longer stand, not two: two would each see the first time anew in the bound. */
const isStandingOn = (day: Day, { place }: Standing, after: number, stretch: number, spot: number): boolean =>
  place === spot && stretch === after + 1 && day.partOf(stretch) === day.partOf(after) && day.mayStand(stretch, spot);

const legTo = (day: Day, standing: Standing, stretch: number, spot: number): Leg | null =>
  legBetween(day.problem, standing, { place: spot, atMinute: minutesOf(day.problem.stretches[stretch]!.from) });

/** Who could stand through one more stretch here and still be there in time loses nothing by standing. */
function isLeftTooSoon(day: Day, { place }: Standing, after: number, stretch: number, spot: number): boolean {
  const next = after + 1;
  if (after < 0 || place === 'van' || place === spot || next >= stretch) return false;
  if (day.partOf(next) !== day.partOf(after) || !day.mayStand(next, place)) return false;
  if (day.problem.besides[next]![place]! < 0 || day.problem.rest !== null) return false;
  return legTo(day, { place, atMinute: minutesOf(day.problem.stretches[next]!.to) }, stretch, spot) !== null;
}
