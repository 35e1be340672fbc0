/** The time that long work still takes, said behind its count; nothing where nobody can tell yet. */
export const leftWords = (seconds: number | null): string =>
  seconds === null ? '' : seconds < 60 ? '; under a minute' : `; about ${Math.round(seconds / 60)} min`;
