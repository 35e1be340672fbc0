/** Public names of what goes to the organiser, and to clients of a race weekend. */
export { type CandidatesInput, candidatesOf, namedPictures } from './candidates.js';
export { type CaptionsInput, captionsOf } from './captions.js';
export { type ChoiceBack, type KnownNames, readChoice } from './choiceBack.js';
export { chooseForOrganiser, SET_WISH, type SetNames } from './chooseForOrganiser.js';
export * from './clients/index.js';
export { downSince, type OrganiserViewInput, organiserView } from './deadline.js';
export { OrganiserError } from './organiserError.js';
export { type OrganiserTerms, type TermsInput, type TermsLines, termsFor, termsIn, termsText } from './terms.js';
export type * from './types.js';
