/**
 * Pairs of real frames, by eye at full size, and named by file alone: the pictures may not be copied (see their README). Further
 * real pairs are made from single pictures by one known step; see `changedPairs.ts`.
 */
export interface SeenPair {
  /** Under the folder of real pictures. */
  readonly better: string;
  readonly worse: string;
  readonly about: 'cut' | 'size' | 'going away';
}

const clip = (
  name: string,
  about: SeenPair['about'],
  pairs: readonly (readonly [number, number])[],
): readonly SeenPair[] =>
  pairs.map(([better, worse]) => ({ better: frame(name, better), worse: frame(name, worse), about }));
const frame = (name: string, number: number): string => `clips/${name}/frames/${String(number).padStart(5, '0')}.jpg`;

export const SEEN_PAIRS: readonly SeenPair[] = [
  ...clip('motocross-jump', 'cut', [
    [8, 16],
    [8, 20],
    [8, 24],
    [28, 20],
    [28, 24],
    [32, 24],
  ]),
  ...clip('motocross-jump', 'size', [
    [8, 0],
    [4, 0],
    [28, 36],
  ]),
  ...clip('motocross-jump', 'going away', [
    [8, 28],
    [8, 32],
    [4, 36],
  ]),
  ...clip('scooter-black', 'size', [
    [36, 0],
    [36, 8],
    [32, 4],
    [28, 0],
    [28, 8],
    [24, 4],
    [24, 8],
    [40, 12],
    [20, 0],
    [16, 0],
  ]),
];
