import { describe, expect, test } from 'vitest';
import { bigDay } from '../../../../demo/plan/manyDays.js';
import { seededRandom } from '../../numeric/random.js';
import { type Row, tablesOf } from './dayTables.js';
import type { Stay } from './types.js';
import { seenBy } from './worthOfPlan.js';

describe('a day as tables', () => {
  test('PL517: what rows see after many changes is what worthOfPlan counts of them', () => {
    for (const seed of [4, 7, 9, 14]) {
      const problem = { ...bigDay(seed), wishes: [] };
      const random = seededRandom(seed);
      const rows: Row[] = Array.from({ length: problem.photographers }, () =>
        new Int8Array(problem.stretches.length).fill(-1),
      );
      const seeing = tablesOf(problem).seeing(rows);
      for (let step = 0; step < 400; step += 1) {
        const photographer = random.integer(0, rows.length - 1);
        const first = random.integer(0, problem.stretches.length - 1);
        const next = rows[photographer]!.slice().fill(
          random.integer(-1, problem.spots.length - 1),
          first,
          first + random.integer(1, 5),
        );
        seeing.change(rows[photographer]!, next);
        rows[photographer] = next;
      }
      const stays = rows.flatMap((row, photographer) =>
        problem.stretches.map(
          ({ name }, i): Stay => ({
            photographer,
            stretch: name,
            spot: problem.spots[row[i]!] ?? null,
          }),
        ),
      );
      expect(seeing.value()).toBeCloseTo(seenBy(problem, stays), 9);
    }
  });
});
