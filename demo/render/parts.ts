/** What a triangle belongs to: its part decides the material, its group how it moves. */
export const PART = {
  fairing: 0,
  tank: 1,
  tail: 2,
  mudguard: 3,
  screen: 4,
  tyre: 5,
  rim: 6,
  disc: 7,
  carrier: 8,
  fork: 9,
  black: 10,
  alloy: 11,
  engine: 12,
  exhaust: 13,
  seat: 14,
  suit: 15,
  helmet: 16,
  glove: 17,
  boot: 18,
  slider: 19,
} as const;
export type Part = (typeof PART)[keyof typeof PART];

/** The bike's body and the rider move together; each wheel turns. */
export const GROUP = { body: 0, frontWheel: 1, rearWheel: 2 } as const;
export type Group = (typeof GROUP)[keyof typeof GROUP];
