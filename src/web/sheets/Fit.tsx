/** How a rider fits one pass: the chance by the arrangement, else how alike they are, which is none; and why. */
import type { ReactNode } from 'react';
import type { LikenessView } from '../../server/types.js';
import { AlikeMark, Gauge, Initialled } from '../marks/Voices.js';

const MOST_REASONS = 3;

export interface FitProps {
  readonly fit: LikenessView;
  /** Who signs, where somebody said so. */
  readonly initials?: string;
  readonly children?: ReactNode;
}

export function Fit({ fit, initials = 'you', children }: FitProps) {
  return (
    <span className="fit">
      <span className="fit-figure">
        <Standing fit={fit} initials={initials} />
        {children}
      </span>
      {fit.reasons.slice(0, MOST_REASONS).map((reason) => (
        <span key={reason} className="pencil-words">
          {reason}
        </span>
      ))}
    </span>
  );
}

function Standing({ fit: { standing, alike }, initials }: { readonly fit: LikenessView; readonly initials: string }) {
  switch (standing.kind) {
    case 'said':
      return <Initialled text="in this set" initials={initials} />;
    case 'placed':
    case 'guessed': {
      const words = standing.kind === 'placed' ? 'in this set' : 'guessed';
      return (
        <span className="pencilled">
          {standing.chance === null ? `${words}, nothing to compare` : words}{' '}
          {standing.chance !== null && <Gauge confidence={standing.chance} />}
        </span>
      );
    }
    case 'near':
    case 'other':
      return (
        <span className="pencilled">
          {standing.kind === 'near' ? 'comes near, alike' : 'alike'} <AlikeMark alike={alike} />
        </span>
      );
  }
}
