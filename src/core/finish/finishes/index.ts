/** Public names of the finishes. */
export { colourChanger } from './colours.js';
export { FIRST_FINISH, lookOf, PLAIN_FINISH, PLAIN_LOOK } from './finishes.js';
export { boxFinished, finishedSize, planLook } from './planLook.js';
export { quieten } from './quieten.js';
export { sharpen } from './sharpen.js';
export * from './types.js';
