/** What leaves the program as a bare word is a person's word: a guess would look like one out there. */
import type { Source } from '../../arrange/types.js';

export const said = (text: string | null, source: Source | null): string =>
  text !== null && source?.kind === 'said' ? text : '';
