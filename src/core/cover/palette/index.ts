/** The field's palette. */
export { fieldPalette } from './fieldPalette.js';
export type * from './types.js';
