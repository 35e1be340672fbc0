/** A judgement is kept with its judge's version; a newer judge judges again and the old lines stay. */
export const JUDGE_VERSION = 3;
