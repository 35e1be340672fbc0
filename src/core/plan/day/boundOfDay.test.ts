import { describe, expect, test } from 'vitest';
import { bigDay, tinyDay } from '../../../../demo/plan/manyDays.js';
import { betterDay } from './betterDay.js';
import { boundOfDay } from './boundOfDay.js';
import { tablesOf } from './dayTables.js';
import { greedyDay } from './greedyDay.js';
import { rowsOf } from './rows.js';
import { bruteForce } from './testing/bruteForce.js';
import { worthOfPlan } from './worthOfPlan.js';

const smaller = { sessions: 7, spots: 4 };

describe('what no plan is worth more than', () => {
  test('PL516: never less than the best of all plans of a tiny day, tried one by one', () => {
    let looked = 0;
    let near = 0;
    for (let seed = 1; seed <= 12; seed += 1) {
      const problem = tinyDay(seed);
      const best = bruteForce(problem);
      if (best === null) continue;
      const { bound, met } = boundOfDay(problem, { worth: best.worth * 0.9, gap: 0 });
      expect(bound).toBeGreaterThanOrEqual(best.worth - 1e-6);
      if (met !== null) expect(met.worth).toBeLessThanOrEqual(best.worth + 1e-6);
      looked += 1;
      if (bound < 1.05 * best.worth) near += 1;
    }
    expect(looked).toBeGreaterThan(8);
    expect(near).toBeGreaterThan(looked / 2);
  });

  test('PL516: of days with two photographers, rests and wishes it lies above every plan found, and not far', () => {
    for (const seed of [2, 3, 4, 5, 7]) {
      const problem = bigDay(seed, smaller);
      const found = betterDay(problem, greedyDay(problem))!;
      const { bound } = boundOfDay(problem, { worth: found.worth, gap: 0 });
      expect(bound).toBeGreaterThanOrEqual(found.worth - 1e-6);
      expect(bound).toBeLessThan(1.08 * found.worth);
    }
  });
});

describe('a plan bettered', () => {
  test('PL517: it can be walked, keeps every wish, is worth no less than before and the same each time', () => {
    let better = 0;
    for (const seed of [2, 3, 4, 5, 7]) {
      const problem = bigDay(seed, smaller);
      const begun = greedyDay(problem)!;
      const found = betterDay(problem, begun)!;
      expect(worthOfPlan(problem, found.stays)).toMatchObject({ kind: 'worth', worth: found.worth });
      expect(found.worth).toBeGreaterThanOrEqual(begun.worth);
      expect(betterDay(problem, begun)).toEqual(found);
      if (found.worth > begun.worth + 1e-6) better += 1;
    }
    expect(better).toBeGreaterThan(0);
  });

  test('PL517: where wishes collide there is none', () => {
    const problem = { ...tinyDay(2), wishes: [] };
    const stretch = problem.stretches[0]!.name;
    const pins = problem.spots.slice(0, 2).map((spot) => ({ kind: 'pin', stretch, spot }) as const);
    expect(betterDay({ ...problem, wishes: pins }, null)).toBeNull();
  });

  test('PL517: the tables that the search judges by agree with the worth of a plan', () => {
    let looked = 0;
    for (let seed = 1; seed <= 12; seed += 1) {
      const problem = bigDay(seed, smaller);
      const plan = greedyDay(problem);
      if (plan === null) continue;
      const tables = tablesOf(problem);
      const rows = rowsOf(problem, plan);
      const ways = rows.reduce((sum, row, photographer) => sum + tables.costOf(row, photographer), 0);
      expect(tables.seenOf(rows) - ways).toBeCloseTo(plan.worth, 9);
      looked += 1;
    }
    expect(looked).toBeGreaterThan(8);
  });
});
