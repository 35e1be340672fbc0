/** What one could not do stops it alone: what the others have in hand is finished before the trouble is told. */
export async function allEnded(works: readonly Promise<void>[]): Promise<void> {
  const trouble = (await Promise.allSettled(works)).find((one) => one.status === 'rejected');
  if (trouble) throw trouble.reason;
}
