/** Those parts of a record that are other objects than before; without a before, all. */
export function changedSince<Whole extends object>(before: Whole | null, now: Whole): Partial<Whole> {
  const parts = Object.entries(now).filter(([part, is]) => before?.[part as keyof Whole] !== is);
  return Object.fromEntries(parts) as Partial<Whole>;
}
