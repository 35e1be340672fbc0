/** Public names of the photographer's own mark. */
export {
  IN_WORDS,
  keepOwnMark,
  letGoOwnMark,
  type OwnMark,
  ownMarkOf,
  prepareOwnMark,
  readOwnMark,
  takeKeptMark,
} from './ownMark.js';
