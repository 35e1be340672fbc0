import { idsIn } from './editionOf.js';

/** A page without the lines that name what was taken down: whatever shows a picture or a rider stands on a line of its own. */
export const withoutLines = (text: string, withdrawn: ReadonlySet<string>): string =>
  text
    .split('\n')
    .filter((line) => !idsIn(line).some((id) => withdrawn.has(id)))
    .join('\n');
