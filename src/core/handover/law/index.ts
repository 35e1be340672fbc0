/** Public names of law and decency. */
export { askToHold, type HoldQuestion } from './askToHold.js';
export {
  type Cancellation,
  type ConsentTrouble,
  cancellationOf,
  consentTroubles,
  hasDownloads,
} from './consent.js';
export {
  CHECK_WITH_LOCAL_LAW,
  LAW_LANGUAGES,
  lawLanguageOf,
  licenceTemplate,
  ownTermsOf,
  type TermsAbout,
  termsOfSale,
  usageTermsOf,
} from './licences.js';
export { type MayBeNamed, mayBeNamed } from './naming.js';
export { offerWithout } from './offerWithout.js';
export { planTakeDown, sayMinor, type TakeDownInput, type TakeDownPlan, type ToTakeDown } from './planTakeDown.js';
export { PRIVACY_TITLE, privacyNotice } from './privacyNotice.js';
export { isWhole, proofText, provedAgain } from './proof.js';
export {
  KEPT_KINDS,
  type Kept,
  type KeptPlan,
  NOTICE_DAYS,
  planRetention,
  type RetentionInput,
  retentionSentence,
  USUAL_DAYS,
} from './retention.js';
export type * from './types.js';
export { type Withdrawable, withdrawableOf, withdrawalFact } from './withdrawal.js';
export { type FactToTell, refundSentence, refundWrongRider } from './wrongRider.js';
