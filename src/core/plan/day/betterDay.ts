/**
 * A plan bettered by many small changes: simulated annealing (Optimization by Simulated Annealing, Science 220, 1983). In each
 * step somebody goes elsewhere, or nowhere, for some stretches, and what lies too near for the ways is left out; a change for the
 * worse is kept the less often the later it comes. As many steps each time, drawn from one seed: the same day gives the same plan.
 * Nothing is proved of it.
 */
import { type DayTables, type Row, tablesOf } from './dayTables.js';
import { rowsOf, type ValuedDay, valuedDayOf } from './rows.js';
import type { DayProblem } from './types.js';

/** For each stretch and photographer; more of them brought little on the days of `bench/solver.ts`. */
const STEPS_A_STRETCH = 3000;
/** In worth: a step for the worse by so much is kept in one of e cases, at the beginning and at the end. */
const WARM = 0.25;
const COLD = 0.01;
const LONGEST = 6;

/** `from` may be null, where nothing is known to begin from. Null: no plan was found that keeps all wishes. */
export function betterDay(problem: DayProblem, from: ValuedDay | null, warm = WARM): ValuedDay | null {
  const better = valuedDayOf(problem, anneal(tablesOf(problem), rowsOf(problem, from), warm));
  return better === null || (from !== null && better.worth < from.worth) ? from : better;
}

function anneal(tables: DayTables, from: readonly Row[], warm: number): readonly Row[] {
  const random = drawing();
  const rows = [...from];
  const costs = rows.map((row, photographer) => tables.costOf(row, photographer));
  const seeing = tables.seeing(rows);
  const worthNow = () => seeing.value() - costs.reduce((sum, cost) => sum + cost, 0);
  let value = worthNow();
  let best = { rows: from, value };
  const steps = STEPS_A_STRETCH * tables.stretches * tables.photographers;
  for (let step = 0; step < steps; step += 1) {
    const photographer = Math.floor(random() * tables.photographers);
    const was = rows[photographer]!;
    const wasCost = costs[photographer]!;
    const row = changed(tables, was, photographer, random);
    const cost = row === null ? Number.POSITIVE_INFINITY : tables.costOf(row, photographer);
    if (row === null || cost === Number.POSITIVE_INFINITY) continue;
    rows[photographer] = row;
    costs[photographer] = cost;
    seeing.change(was, row);
    const next = worthNow();
    const warmth = warm * (COLD / warm) ** (step / steps);
    if (next >= value || random() < Math.exp((next - value) / warmth)) {
      value = next;
      if (value > best.value) best = { rows: [...rows], value };
    } else {
      rows[photographer] = was;
      costs[photographer] = wasCost;
      seeing.change(row, was);
    }
  }
  return best.rows;
}

/** Null: nothing changes, or nobody may stand there. */
function changed(tables: DayTables, was: Row, photographer: number, random: () => number): Row | null {
  const first = Math.floor(random() * tables.stretches);
  const last = Math.min(tables.stretches - 1, first + Math.floor(LONGEST * random() ** 2));
  const spot = Math.floor(random() * (tables.spots + 1)) - 1;
  const row = Int8Array.from(was);
  let isSame = true;
  for (let i = first; i <= last; i += 1) {
    if (spot >= 0 && !tables.mayStand(i, spot)) return null;
    isSame &&= row[i] === spot;
    row[i] = spot;
  }
  if (isSame) return null;
  if (spot >= 0) clearWays(tables, row, photographer, first, last);
  return row;
}

function clearWays({ isWay, stretches }: DayTables, row: Row, photographer: number, first: number, last: number): void {
  const spot = row[first]!;
  for (let i = first - 1; i >= 0; i -= 1) {
    if (row[i]! < 0) continue;
    if (isWay(photographer, i, row[i]!, first, spot)) break;
    row[i] = -1;
  }
  for (let i = last + 1; i < stretches; i += 1) {
    if (row[i]! < 0) continue;
    if (isWay(photographer, last, spot, i, row[i]!)) break;
    row[i] = -1;
  }
}

/** The generator of Park and Miller (Communications of the ACM 31(10), 1988), from one seed. */
function drawing(): () => number {
  let state = 20_261;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}
