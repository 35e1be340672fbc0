import { expect, it } from 'vitest';
import { studentT95 } from './student.js';

it('agrees with Abramowitz & Stegun, table 26.10, from 4 degrees of freedom on', () => {
  const table = [
    [4, 2.132],
    [5, 2.015],
    [9, 1.833],
    [20, 1.725],
    [60, 1.671],
    [120, 1.658],
  ] as const;
  for (const [degrees, t] of table) expect(Math.abs(studentT95(degrees) - t)).toBeLessThan(0.02);
  expect(Math.abs(studentT95(9) - 1.833)).toBeLessThan(0.002);
});
