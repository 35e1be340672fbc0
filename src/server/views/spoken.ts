/** Turns a source of the arrangement into one of the three voices. */
import type { Source } from '../../core/arrange/types.js';
import { unitIntervalOf } from '../../core/units.js';
import type { Spoken } from '../types.js';

export const printed = (text: string): Spoken => ({ voice: 'printed', text });

export function spokenBy(source: Source, text: string, initials: string): Spoken {
  switch (source.kind) {
    case 'measured':
      return printed(text);
    case 'said':
      return { voice: 'initialled', text, initials };
    case 'guessed':
      return { voice: 'pencilled', text, confidence: unitIntervalOf(source.confidence), reasons: source.reasons };
  }
}
