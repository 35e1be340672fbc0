import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { inventedDay } from '../../../../demo/plan/inventedDay.js';
import { bigDay, tinyDay } from '../../../../demo/plan/manyDays.js';
import { type DayProblem, dayWithout, type FoundPlan, greedyDay, worthOfPlan } from '../../../core/plan/day/index.js';
import { bruteForce } from '../../../core/plan/day/testing/bruteForce.js';
import { type Highs, startHighs } from './highs.js';
import { askNextBest, type DaySolver, startDaySolver } from './index.js';
import { solveDay } from './solveDay.js';

let highs: Highs;
beforeAll(async () => {
  highs = await startHighs();
});

const exact = { gap: 0, timeLimitS: 60 };
const within1 = { gap: 0.01, timeLimitS: 60 };

describe('a day solved', () => {
  test('PL510: the best plan of 24 tiny days is the best of all their plans, tried one by one', () => {
    let plans = 0;
    let collisions = 0;
    for (let seed = 1; seed <= 24; seed += 1) {
      const problem = tinyDay(seed);
      const tried = bruteForce(problem);
      const solved = solveDay(highs, problem, exact);
      expect({ seed, kind: solved.kind }).toEqual({ seed, kind: tried === null ? 'impossible' : 'plan' });
      if (solved.kind === 'impossible') collisions += 1;
      else {
        plans += 1;
        expect(solved.worth).toBeCloseTo(tried!.worth, 6);
        expect(solved.bound).toBeCloseTo(tried!.worth, 3);
        expect(solved.isProvenBest).toBe(true);
      }
    }
    expect(plans).toBeGreaterThan(15);
    expect(collisions).toBeGreaterThan(1);
  });

  test('PL511: big days are never worth less than the plan found at once, nor more than their bound', () => {
    let better = 0;
    for (let seed = 1; seed <= 10; seed += 1) {
      const problem = bigDay(seed, { sessions: 10, spots: 5 });
      const greedy = greedyDay(problem);
      const solved = solveDay(highs, problem, { gap: 0.01, timeLimitS: 3 });
      if (solved.kind === 'impossible') continue;
      expect(solved.bound ?? 0).toBeGreaterThanOrEqual(solved.worth);
      expect(solved.worth).toBeGreaterThanOrEqual(greedy?.worth ?? 0);
      expect(worthOfPlan(problem, solved.stays)).toMatchObject({ kind: 'worth', worth: solved.worth });
      if (solved.worth > (greedy?.worth ?? 0) + 0.01) better += 1;
    }
    expect(better).toBeGreaterThan(3);
  });

  test('PL512: the same day gives the same plan', () => {
    const problem = bigDay(2, { sessions: 8, spots: 4 });
    const plans = Array.from({ length: 3 }, () => solveDay(highs, problem, within1));
    expect(plans[1]).toEqual(plans[0]);
    expect(plans[2]).toEqual(plans[0]);
  });
});

describe('what cannot be had together', () => {
  const free: DayProblem = { ...tinyDay(2), wishes: [] };
  const [first, second] = free.stretches;
  const [a, b] = free.spots;

  test('PL513: names the wishes that collide, and only those', () => {
    const pins = [
      { kind: 'pin', stretch: first!.name, spot: a! },
      { kind: 'pin', stretch: first!.name, spot: b! },
      { kind: 'forbid', stretch: second!.name, spot: a! },
    ] as const;
    const solved = solveDay(highs, { ...free, wishes: pins }, exact);
    expect(solved).toEqual({
      kind: 'impossible',
      colliding: [pins[0], pins[1]],
      sentence: `These cannot all be had: Spot 1 in ${first!.name}; and Spot 2 in ${first!.name}. Take one of them back.`,
    });
  });

  test('PL513: without any one of those that collide there is a plan', () => {
    let looked = 0;
    for (let seed = 1; seed <= 80; seed += 1) {
      const problem = tinyDay(seed);
      if (problem.wishes.length < 2 || problem.photographers > 1) continue;
      const solved = solveDay(highs, problem, exact);
      if (solved.kind !== 'impossible') continue;
      for (const each of solved.colliding) {
        const colliding = solved.colliding.filter((other) => other !== each);
        const wishes = problem.wishes.filter((wish) => colliding.includes(wish));
        const has = (kind: string) => colliding.some((other) => other.kind === kind);
        const fewer = {
          ...problem,
          wishes,
          vanBreaks: has('van-breaks') ? problem.vanBreaks : [],
          rest: has('rest-limit') ? problem.rest : null,
        };
        expect({ seed, plan: bruteForce(fewer) !== null }).toEqual({ seed, plan: true });
        looked += 1;
      }
    }
    expect(looked).toBeGreaterThan(3);
  });
});

describe('the solver in its own thread', () => {
  let solver: DaySolver;
  beforeAll(() => {
    solver = startDaySolver();
  });
  afterAll(() => solver.close());

  test('PL514: a plan stands at once, the better one comes with its bound', async () => {
    const firsts: FoundPlan[] = [];
    const problem = bigDay(1, { sessions: 8, spots: 4 });
    const plan = await solver.solve(problem, { onFirst: (first) => firsts.push(first) });
    expect(firsts).toMatchObject([{ kind: 'plan', from: 'greedy', isProvenBest: false }]);
    expect(plan).toEqual(solveDay(highs, problem, within1));
  });

  test('PL515: told to stop, it answers with what it has and goes on to the next day', async () => {
    const stop = new AbortController();
    const long = solver.solve(bigDay(4), { gap: 0, timeLimitS: 300, signal: stop.signal, onFirst: () => stop.abort() });
    const next = solver.solve(bigDay(1, { sessions: 4, spots: 3 }));
    const stopped = await long;
    expect(stopped).toMatchObject({ kind: 'plan', isProvenBest: false });
    expect(worthOfPlan(bigDay(4), (stopped as FoundPlan).stays)).toMatchObject({ kind: 'worth' });
    expect(await next).toMatchObject({ kind: 'plan' });
  });

  test('PL531: asked for the next best, it forbids that stay and tells what the day then loses', async () => {
    const problem = inventedDay({ seed: 3, sessions: 6, halves: 1, spots: 3 });
    const plan = (await solver.solve(problem, { gap: 0 })) as FoundPlan;
    const stay = plan.stays.find(({ spot }) => spot !== null)!;
    const next = await askNextBest(solver, problem, plan, stay);
    const without = bruteForce(dayWithout(problem, stay))!;
    expect(next!.spot).not.toBe(stay.spot);
    expect(next!.costs[0]).toBeLessThanOrEqual(plan.worth - without.worth + 1e-3);
    expect(next!.costs[1]).toBeGreaterThanOrEqual(plan.worth - without.worth - 1e-3);
  });

  test('closed, it says so', async () => {
    const other = startDaySolver();
    await other.close();
    await expect(other.solve(tinyDay(1))).rejects.toThrow('The solver was closed; start it again.');
  });
});
