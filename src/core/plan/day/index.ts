/** The day's solver: what a day asks for, what a plan is worth and why, and the day as a programme for a solver. */
export { betterDay } from './betterDay.js';
export { boundOfDay } from './boundOfDay.js';
export { sentenceOfCollision, smallestCollision } from './collisions.js';
export { greedyDay } from './greedyDay.js';
export type * from './inputs.js';
export { type DayModel, modelOfDay } from './modelOfDay.js';
export { type AskedDay, problemOfDay } from './problemOfDay.js';
export * from './types.js';
export { dayWithout, minutesLost, type NextBest, nextBest, type WhyStay, whyStays } from './whyStays.js';
export { whyUnseen } from './whyUnseen.js';
export { forbidding, pinning, weighingGroup, weighingSpot } from './wishing.js';
export { type Judgement, worthOfPlan } from './worthOfPlan.js';
export type { WorthPart } from './worthOfStretch.js';
