/**
 * Student's t: below how much nineteen of twenty values lie, for intervals that hold nine of ten.
 *
 * Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 26.7.5, three terms: 0.02 off at 4 degrees of freedom, less from
 * there on; not for fewer.
 */

/** The 95 % point of the standard normal. */
const Z = 1.6448536;

export function studentT95(degrees: number): number {
  const g1 = (Z ** 3 + Z) / 4;
  const g2 = (5 * Z ** 5 + 16 * Z ** 3 + 3 * Z) / 96;
  const g3 = (3 * Z ** 7 + 19 * Z ** 5 + 17 * Z ** 3 - 15 * Z) / 384;
  return Z + g1 / degrees + g2 / degrees ** 2 + g3 / degrees ** 3;
}
