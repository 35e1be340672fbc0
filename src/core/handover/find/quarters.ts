/** Quarters of an hour of the day, 0–95. */
const QUARTER_MS = 900_000;
const DAY_MS = 86_400_000;

export const quarterOf = (wall: number): number => Math.floor((((wall % DAY_MS) + DAY_MS) % DAY_MS) / QUARTER_MS);
