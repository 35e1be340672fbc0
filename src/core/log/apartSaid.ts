/** Frames kept apart from the sessions, by what they show. */
export const APART_KINDS = ['paddock', 'portrait', 'podium', 'briefing'] as const;
export type ApartKind = (typeof APART_KINDS)[number];

/** What a person says of a frame: kept apart as one of these, or of its session after all. */
export const APART_SAID = [...APART_KINDS, 'session'] as const;
export type ApartSaid = (typeof APART_SAID)[number];
