/** One keeper, half as it came from the card and half as it would be finished. */
import type { Finish } from '../../core/log/finishSaid.js';
import type { FinishSpotView } from '../../server/finish/types.js';

export interface TwoSidesProps {
  readonly spot: Pick<FinishSpotView, 'name' | 'example'>;
  readonly finish: Finish;
  readonly isSwapped: boolean;
  readonly isSmall?: boolean;
}

/** @param edgePx of the long edge; absent: small enough to follow a mark that is moved */
export const triedAt = (frame: string, finish: Finish, edgePx?: number): string =>
  `/pictures/tried/${frame}?finish=${encodeURIComponent(JSON.stringify(finish))}${edgePx === undefined ? '' : `&edge=${edgePx}`}`;

export function TwoSides({ spot, finish, isSwapped, isSmall = false }: TwoSidesProps) {
  const { frameId, aspect } = spot.example;
  const card = (
    <img src={`/pictures/${frameId}`} alt={isSmall ? '' : `${spot.name}, from the card`} draggable={false} />
  );
  const finished = (
    <img src={triedAt(frameId, finish)} alt={isSmall ? '' : `${spot.name}, finished`} draggable={false} />
  );
  return (
    <div className={isSmall ? 'two-sides small' : 'two-sides'} style={{ aspectRatio: isSmall ? 2.8 : aspect }}>
      <div className="side left">{isSwapped ? finished : card}</div>
      <div className="side right">{isSwapped ? card : finished}</div>
    </div>
  );
}
