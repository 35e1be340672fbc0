/** Branded numbers: the unit is part of the type, so two units cannot be mixed by accident. */
declare const degrees: unique symbol;
declare const radians: unique symbol;
declare const millimetres: unique symbol;
declare const metres: unique symbol;
declare const pixels: unique symbol;
declare const milliseconds: unique symbol;
declare const epochMs: unique symbol;
declare const wallMs: unique symbol;
declare const unitInterval: unique symbol;

export type Branded<Base, Mark extends symbol> = Base & { readonly [M in Mark]: true };

export type Degrees = Branded<number, typeof degrees>;
export type Radians = Branded<number, typeof radians>;
export type Millimetres = Branded<number, typeof millimetres>;
export type Metres = Branded<number, typeof metres>;
export type Pixels = Branded<number, typeof pixels>;
export type Milliseconds = Branded<number, typeof milliseconds>;
/** An instant: milliseconds since 1970-01-01T00:00:00Z. */
export type EpochMs = Branded<number, typeof epochMs>;
/** A zoneless reading of a clock on a wall, counted as if the wall stood in UTC. */
export type WallMs = Branded<number, typeof wallMs>;
/** A number from 0 to 1, both included. */
export type UnitInterval = Branded<number, typeof unitInterval>;

export const degreesOf = (value: number): Degrees => value as Degrees;
export const metresOf = (value: number): Metres => value as Metres;
export const millisecondsOf = (value: number): Milliseconds => value as Milliseconds;
export const epochMsOf = (value: number): EpochMs => value as EpochMs;
export const wallMsOf = (value: number): WallMs => value as WallMs;
/** A confidence in words: a guess is never said to be certain, nor impossible. */
export const outOf100 = (confidence: number): number => Math.min(99, Math.max(1, Math.round(confidence * 100)));
export const unitIntervalOf = (value: number): UnitInterval => Math.min(1, Math.max(0, value)) as UnitInterval;
