/** What a person says of a rider's age: no consent to be shown was given, a parent gave it, or they are of age after all. */
export const MINOR_SAID = ['without-consent', 'with-consent', 'of-age'] as const;
export type MinorSaid = (typeof MINOR_SAID)[number];
